#include "fadewright/plan/svg_outline.h"

#include "svg_tags.h"

#include <fmt/core.h>
#include <librsvg/rsvg.h>

#include <algorithm>
#include <cmath>
#include <memory>

namespace fadewright::plan {
namespace {

constexpr double kMillimetresPerInch = 25.4;
constexpr double kPixelsPerInch = 96;
constexpr double kPointsPerInch = 72;
constexpr double kPicasPerInch = 6;
constexpr double kThinning = 0.05;  // of a square
constexpr std::size_t kMostIdsShown = 20;
constexpr int kBorder = 1;  // empty squares all round, so that every edge closes
constexpr int kOpaque = 255;
constexpr int kHalf = 128;  // from here on a square is covered

struct Unref {
    void operator()(gpointer object) const { g_object_unref(object); }
};
struct FreeError {
    void operator()(GError* error) const { g_error_free(error); }
};
struct FreeSurface {
    void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
};
struct FreeContext {
    void operator()(cairo_t* c) const { cairo_destroy(c); }
};
using Handle = std::unique_ptr<RsvgHandle, Unref>;
using Error = std::unique_ptr<GError, FreeError>;
using Surface = std::unique_ptr<cairo_surface_t, FreeSurface>;

struct Size {
    double width_mm, height_mm;
};

// 0 for lengths that hang on their surroundings.
double in_mm(const RsvgLength& length) {
    switch (length.unit) {
        case RSVG_UNIT_PX:
            return length.length * kMillimetresPerInch / kPixelsPerInch;
        case RSVG_UNIT_IN:
            return length.length * kMillimetresPerInch;
        case RSVG_UNIT_CM:
            return length.length * 10;
        case RSVG_UNIT_MM:
            return length.length;
        case RSVG_UNIT_PT:
            return length.length * kMillimetresPerInch / kPointsPerInch;
        case RSVG_UNIT_PC:
            return length.length * kMillimetresPerInch / kPicasPerInch;
        case RSVG_UNIT_PERCENT:
        case RSVG_UNIT_EM:
        case RSVG_UNIT_EX:
            return 0;
    }
    return 0;
}

// The parser's words without its numbers for machines.
std::string reason(const GError* error) {
    std::string words = error ? error->message : "it is damaged";
    const std::size_t place = words.find("line ");
    if (words.find("Error domain") < place && place < words.size()) words.erase(0, place);
    while (!words.empty() && (words.back() == '\n' || words.back() == ' ')) words.pop_back();
    return words;
}

Result<Handle> parsed(const std::string& bytes, const std::string& name) {
    GInputStream* stream =
        g_memory_input_stream_new_from_data(bytes.data(), static_cast<gssize>(bytes.size()), nullptr);
    const std::unique_ptr<GInputStream, Unref> held(stream);
    GError* raw = nullptr;
    // Without a base file nothing outside the bytes can be opened.
    Handle handle(rsvg_handle_new_from_stream_sync(stream, nullptr, RSVG_HANDLE_FLAGS_NONE, nullptr, &raw));
    const Error error(raw);
    if (!handle)
        return Refusal{fmt::format("cannot read {} as an SVG drawing: {}", name, reason(error.get()))};
    return handle;
}

// The size that the drawing itself states, as far as it goes, and the shape of its box.
Result<Size> size_of(RsvgHandle* handle, const std::string& name, std::optional<Millimetres> wanted) {
    gboolean has_width = FALSE, has_height = FALSE, has_box = FALSE;
    RsvgLength w{}, h{};
    RsvgRectangle box{};
    rsvg_handle_get_intrinsic_dimensions(handle, &has_width, &w, &has_height, &h, &has_box, &box);
    double width = has_width ? std::max(0.0, in_mm(w)) : 0;  // 0: not known
    double height = has_height ? std::max(0.0, in_mm(h)) : 0;
    const bool boxed = has_box && box.width > 0 && box.height > 0;
    const double ratio = width > 0 && height > 0 ? height / width : boxed ? box.height / box.width : 0;
    if (wanted) {
        if (ratio == 0)
            return Refusal{name +
                           " has neither width and height nor a viewBox: write viewBox=\"0 0 300 200\" "
                           "with its own numbers"};
        width = wanted->value;
        height = width * ratio;
    }
    if (height == 0) height = width * ratio;
    if (width == 0 && ratio > 0) width = height / ratio;
    if (width == 0 || height == 0)
        return Refusal{name +
                       " has no true size: write width=\"300mm\" height=\"200mm\" with its own numbers "
                       "into its <svg>, or say how wide it is"};
    const double longest = std::max(width, height);
    if (longest > kLargestDrawing_mm)
        // units: fixed, as the drawing says it
        return Refusal{fmt::format("{} is {:.4g} mm long: at most {:.4g} mm are taken", name, longest,
                                   kLargestDrawing_mm)};
    if (std::min(width, height) < longest / kTraceSquares)
        return Refusal{
            // units: fixed, as the drawing says it
            fmt::format("{} is {:.4g} mm by {:.4g} mm: too thin to have an outline", name, width, height)};
    return Size{width, height};
}

// The drawing's cover on a grid of squares, from the upper left.
struct Cover {
    Surface surface;
    const unsigned char* data;
    int columns, rows, stride;
    double square_mm;
    double height_mm;

    // Rows are counted upwards from the lowest. Nothing beyond the grid.
    [[nodiscard]] int at(spray::Node2 n) const noexcept {
        if (n.column < 0 || n.row < 0 || n.column >= columns || n.row >= rows) return 0;
        return data[(rows - 1 - n.row) * stride + n.column];
    }
    // Middle of a square.
    [[nodiscard]] spray::Corner place(double column, double row) const noexcept {
        const double down = rows - 1 - row - kBorder + 0.5;
        return {(column - kBorder + 0.5) * square_mm, height_mm - down * square_mm};
    }
};

Result<Cover> drawn(RsvgHandle* handle, const std::string& name, const Size& size, const std::string& id) {
    const double square = std::max(std::max(size.width_mm, size.height_mm) / kTraceSquares, kFinestSquare_mm);
    const double width = size.width_mm / square, height = size.height_mm / square;
    const int columns = static_cast<int>(std::ceil(width)) + 2 * kBorder;
    const int rows = static_cast<int>(std::ceil(height)) + 2 * kBorder;
    Surface surface(cairo_image_surface_create(CAIRO_FORMAT_A8, columns, rows));
    const std::unique_ptr<cairo_t, FreeContext> context(cairo_create(surface.get()));
    cairo_rectangle(context.get(), kBorder, kBorder, width, height);
    cairo_clip(context.get());
    const RsvgRectangle viewport{kBorder, kBorder, width, height};
    GError* raw = nullptr;
    const gboolean done = id.empty()
                              ? rsvg_handle_render_document(handle, context.get(), &viewport, &raw)
                              : rsvg_handle_render_layer(handle, context.get(), id.c_str(), &viewport, &raw);
    const Error error(raw);
    if (!done || cairo_status(context.get()) != CAIRO_STATUS_SUCCESS)
        return Refusal{fmt::format("cannot draw {}: {}", name, reason(error.get()))};
    cairo_surface_flush(surface.get());
    const unsigned char* data = cairo_image_surface_get_data(surface.get());
    const int stride = cairo_image_surface_get_stride(surface.get());
    return Cover{std::move(surface), data, columns, rows, stride, square, size.height_mm};
}

// From the middle of a covered square towards that of its uncovered neighbour, in squares. Where the cover
// goes from all to nothing over these two, their covers add up to the place of the edge; else half cover is
// looked for between them.
double way_to_edge(const Cover& cover, spray::Node2 in, spray::Node2 out) noexcept {
    const spray::Node2 step{out.column - in.column, out.row - in.row};
    const int behind = cover.at({in.column - step.column, in.row - step.row});
    const int beyond = cover.at({out.column + step.column, out.row + step.row});
    const double here = cover.at(in), there = cover.at(out);
    if (behind == kOpaque && beyond == 0) return std::clamp((here + there) / kOpaque - 0.5, 0.0, 1.0);
    return (here - kHalf + 0.5) / (here - there);
}

std::vector<spray::Ring> traced(const Cover& cover) {
    spray::NodeGrid grid(cover.columns, cover.rows);
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; ++column)
            grid.inside[grid.index(column, row)] = cover.at({column, row}) >= kHalf;
    const spray::Crossings crossings{
        [&](spray::Node2 in, spray::Node2 out) {
            const double t = way_to_edge(cover, in, out);
            return cover.place(in.column + t * (out.column - in.column), in.row + t * (out.row - in.row));
        },
        [&](spray::Node2 n) {
            const int sum = cover.at(n) + cover.at({n.column + 1, n.row}) + cover.at({n.column, n.row + 1}) +
                            cover.at({n.column + 1, n.row + 1});
            return sum >= 4 * kHalf - 2;
        }};
    std::vector<spray::Ring> rings;
    for (const spray::Ring& ring : spray::contours(grid, crossings)) {
        spray::Ring thin = spray::thinned(ring, kThinning * cover.square_mm);
        if (thin.size() >= 3) rings.push_back(std::move(thin));
    }
    return rings;
}

Refusal unknown_id(const std::string& id, const std::string& name, const std::vector<SvgTag>& tags) {
    std::string known;
    std::size_t count = 0;
    for (const SvgTag& tag : tags) {
        const std::string_view here = attribute(tag, "id");
        if (here.empty()) continue;
        if (count++ < kMostIdsShown) known += fmt::format("{}#{}", known.empty() ? "" : ", ", here);
    }
    if (count > kMostIdsShown) known += fmt::format(" and {} more", count - kMostIdsShown);
    return Refusal{fmt::format("{} has no element #{}: {}", name, id,
                               known.empty() ? "none of its elements has an id" : "there are " + known)};
}

}  // namespace

Result<DrawnOutline> outline_from_svg(const std::string& bytes, const std::string& name,
                                      const SvgWish& wish) {
    if (bytes.size() > kLargestSvg_bytes)
        return Refusal{fmt::format("{} is larger than {} MB", name, kLargestSvg_bytes >> 20)};
    if (bytes.starts_with("\x1f\x8b")) return Refusal{name + " is compressed: unpack it"};
    if (bytes.find('\0') != std::string::npos) return Refusal{name + " is no text in UTF-8"};
    const std::string id = wish.id.starts_with('#') ? wish.id.substr(1) : wish.id;
    const std::vector<SvgTag> tags = svg_tags(bytes);
    if (const std::string need = outside_need(tags, id); !need.empty()) return Refusal{name + " " + need};
    Result<Handle> handle = parsed(bytes, name);
    if (!handle) return handle.refusal();
    const Handle drawing = std::move(handle).value();
    if (!id.empty() && !rsvg_handle_has_sub(drawing.get(), ("#" + id).c_str()))
        return unknown_id(id, name, tags);
    const Result<Size> size = size_of(drawing.get(), name, wish.width);
    if (!size) return size.refusal();
    const Result<Cover> cover = drawn(drawing.get(), name, size.value(), id.empty() ? id : "#" + id);
    if (!cover) return cover.refusal();
    spray::Outline outline(traced(cover.value()));
    if (outline.empty())
        return Refusal{fmt::format("{} draws nothing that can be seen: fill the shape with an opaque colour",
                                   id.empty() ? name : "#" + id + " of " + name)};
    return DrawnOutline{std::move(outline), Millimetres{size.value().width_mm},
                        Millimetres{size.value().height_mm}};
}

}  // namespace fadewright::plan
