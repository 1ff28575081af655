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
constexpr double kSimplification = 0.05;  // of a square
constexpr std::size_t kMaxIdsShown = 20;
constexpr int kBorder = 1;  // empty squares on all sides, so that every edge closes
constexpr int kOpaque = 255;
constexpr int kHalf = 128;  // from here on a square is covered

struct Unref {
    void operator()(gpointer object) const { g_object_unref(object); }
};
struct FreeGlibError {
    void operator()(GError* error) const { g_error_free(error); }
};
struct FreeSurface {
    void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
};
struct FreeContext {
    void operator()(cairo_t* c) const { cairo_destroy(c); }
};
using Handle = std::unique_ptr<RsvgHandle, Unref>;
using GlibError = std::unique_ptr<GError, FreeGlibError>;
using CairoSurface = std::unique_ptr<cairo_surface_t, FreeSurface>;

struct Size {
    double width_mm, height_mm;
};

// 0 for relative lengths.
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

// The parser's message without its error codes.
std::string reason(const GError* error) {
    std::string message = error ? error->message : "it is damaged";
    const std::size_t position = message.find("line ");
    if (message.find("Error domain") < position && position < message.size()) message.erase(0, position);
    while (!message.empty() && (message.back() == '\n' || message.back() == ' ')) message.pop_back();
    return message;
}

Result<Handle> parse_drawing(const std::string& bytes, const std::string& name) {
    GInputStream* stream =
        g_memory_input_stream_new_from_data(bytes.data(), static_cast<gssize>(bytes.size()), nullptr);
    const std::unique_ptr<GInputStream, Unref> stream_owner(stream);
    GError* raw = nullptr;
    // Without a base file nothing outside the bytes can be opened.
    Handle handle(rsvg_handle_new_from_stream_sync(stream, nullptr, RSVG_HANDLE_FLAGS_NONE, nullptr, &raw));
    const GlibError error(raw);
    if (!handle) return Error{fmt::format("cannot read {} as an SVG drawing: {}", name, reason(error.get()))};
    return handle;
}

// The size given in the drawing, if any, and the aspect ratio of its box.
Result<Size> size_of(RsvgHandle* handle, const std::string& name,
                     std::optional<Millimetres> requested_width) {
    gboolean has_width = FALSE, has_height = FALSE, has_box = FALSE;
    RsvgLength w{}, h{};
    RsvgRectangle box{};
    rsvg_handle_get_intrinsic_dimensions(handle, &has_width, &w, &has_height, &h, &has_box, &box);
    double width = has_width ? std::max(0.0, in_mm(w)) : 0;  // 0: not known
    double height = has_height ? std::max(0.0, in_mm(h)) : 0;
    const bool boxed = has_box && box.width > 0 && box.height > 0;
    const double ratio = width > 0 && height > 0 ? height / width : boxed ? box.height / box.width : 0;
    if (requested_width) {
        if (ratio == 0)
            return Error{
                name +
                " has neither width and height nor a viewBox: write viewBox=\"0 0 300 200\" with its own "
                "numbers"};
        width = requested_width->value;
        height = width * ratio;
    }
    if (height == 0) height = width * ratio;
    if (width == 0 && ratio > 0) width = height / ratio;
    if (width == 0 || height == 0)
        return Error{
            name +
            " has no true size: write width=\"300mm\" height=\"200mm\" with its own numbers into its <svg>, "
            "or give its width"};
    const double longest = std::max(width, height);
    if (longest > kLargestDrawing_mm)
        // units: fixed, as in the drawing
        return Error{fmt::format("{} is {:.4g} mm long: at most {:.4g} mm are allowed", name, longest,
                                 kLargestDrawing_mm)};
    if (std::min(width, height) < longest / kTraceSquares)
        return Error{
            // units: fixed, as in the drawing
            fmt::format("{} is {:.4g} mm by {:.4g} mm: too thin for an outline", name, width, height)};
    return Size{width, height};
}

// The drawing's coverage on a grid of squares, from the top left.
struct CoverageGrid {
    CairoSurface surface;
    const unsigned char* data;
    int columns, rows, stride;
    double square_mm;
    double height_mm;

    // Rows are counted upwards from the lowest. Nothing beyond the grid.
    [[nodiscard]] int at(geometry::GridNode n) const noexcept {
        if (n.column < 0 || n.row < 0 || n.column >= columns || n.row >= rows) return 0;
        return data[(rows - 1 - n.row) * stride + n.column];
    }
    // Centre of a square.
    [[nodiscard]] geometry::PlanePoint square_centre(double column, double row) const noexcept {
        const double down = rows - 1 - row - kBorder + 0.5;
        return {(column - kBorder + 0.5) * square_mm, height_mm - down * square_mm};
    }
};

Result<CoverageGrid> render_coverage(RsvgHandle* handle, const std::string& name, const Size& size,
                                     const std::string& id) {
    const double square = std::max(std::max(size.width_mm, size.height_mm) / kTraceSquares, kFinestSquare_mm);
    const double width = size.width_mm / square, height = size.height_mm / square;
    const int columns = static_cast<int>(std::ceil(width)) + 2 * kBorder;
    const int rows = static_cast<int>(std::ceil(height)) + 2 * kBorder;
    CairoSurface surface(cairo_image_surface_create(CAIRO_FORMAT_A8, columns, rows));
    const std::unique_ptr<cairo_t, FreeContext> context(cairo_create(surface.get()));
    cairo_rectangle(context.get(), kBorder, kBorder, width, height);
    cairo_clip(context.get());
    const RsvgRectangle viewport{kBorder, kBorder, width, height};
    GError* raw = nullptr;
    const gboolean done = id.empty()
                              ? rsvg_handle_render_document(handle, context.get(), &viewport, &raw)
                              : rsvg_handle_render_layer(handle, context.get(), id.c_str(), &viewport, &raw);
    const GlibError error(raw);
    if (!done || cairo_status(context.get()) != CAIRO_STATUS_SUCCESS)
        return Error{fmt::format("cannot draw {}: {}", name, reason(error.get()))};
    cairo_surface_flush(surface.get());
    const unsigned char* data = cairo_image_surface_get_data(surface.get());
    const int stride = cairo_image_surface_get_stride(surface.get());
    return CoverageGrid{std::move(surface), data, columns, rows, stride, square, size.height_mm};
}

// Position of the edge from the centre of a covered square towards that of its uncovered neighbour, in
// squares. If the coverage drops from full to zero over these two, their coverages add up to the position;
// otherwise it is interpolated at half coverage.
double edge_offset(const CoverageGrid& coverage, geometry::GridNode inside_node,
                   geometry::GridNode outside_node) noexcept {
    const geometry::GridNode step{outside_node.column - inside_node.column,
                                  outside_node.row - inside_node.row};
    const int behind = coverage.at({inside_node.column - step.column, inside_node.row - step.row});
    const int beyond = coverage.at({outside_node.column + step.column, outside_node.row + step.row});
    const double current = coverage.at(inside_node), neighbour = coverage.at(outside_node);
    if (behind == kOpaque && beyond == 0) return std::clamp((current + neighbour) / kOpaque - 0.5, 0.0, 1.0);
    return (current - kHalf + 0.5) / (current - neighbour);
}

std::vector<geometry::Ring> trace_outline(const CoverageGrid& coverage) {
    geometry::GridNodes grid(coverage.columns, coverage.rows);
    for (int row = 0; row < grid.rows; ++row)
        for (int column = 0; column < grid.columns; ++column)
            grid.inside[grid.index(column, row)] = coverage.at({column, row}) >= kHalf;
    const geometry::Crossings crossings{
        [&](geometry::GridNode inside_node, geometry::GridNode outside_node) {
            const double t = edge_offset(coverage, inside_node, outside_node);
            return coverage.square_centre(inside_node.column + t * (outside_node.column - inside_node.column),
                                          inside_node.row + t * (outside_node.row - inside_node.row));
        },
        [&](geometry::GridNode n) {
            const int sum = coverage.at(n) + coverage.at({n.column + 1, n.row}) +
                            coverage.at({n.column, n.row + 1}) + coverage.at({n.column + 1, n.row + 1});
            return sum >= 4 * kHalf - 2;
        }};
    std::vector<geometry::Ring> rings;
    for (const geometry::Ring& ring : geometry::contours(grid, crossings)) {
        geometry::Ring simplified = geometry::simplify(ring, kSimplification * coverage.square_mm);
        if (simplified.size() >= 3) rings.push_back(std::move(simplified));
    }
    return rings;
}

Error unknown_id_error(const std::string& id, const std::string& name, const SvgTags& tags) {
    const std::vector<std::string> ids = tags.ids();
    std::string known;
    for (std::size_t i = 0; i < std::min(ids.size(), kMaxIdsShown); ++i)
        known += fmt::format("{}#{}", i == 0 ? "" : ", ", ids[i]);
    if (ids.size() > kMaxIdsShown) known += fmt::format(" and {} more", ids.size() - kMaxIdsShown);
    return Error{fmt::format("{} has no element #{}: {}", name, id,
                             known.empty() ? "none of its elements has an id" : "there are " + known)};
}

}  // namespace

Result<DrawnOutline> outline_from_svg(const std::string& bytes, const std::string& name,
                                      const SvgOptions& options) {
    if (bytes.size() > kLargestSvg_bytes)
        return Error{fmt::format("{} is larger than {} MB", name, kLargestSvg_bytes >> 20)};
    if (bytes.starts_with("\x1f\x8b")) return Error{name + " is compressed: decompress it"};
    if (bytes.find('\0') != std::string::npos) return Error{name + " is not UTF-8 text"};
    const std::string id = options.id.starts_with('#') ? options.id.substr(1) : options.id;
    const SvgTags tags(bytes);
    if (const std::string dependency = tags.external_reference(id); !dependency.empty())
        return Error{name + " " + dependency};
    Result<Handle> handle = parse_drawing(bytes, name);
    if (!handle) return handle.error();
    // References may be in the part that could not be read.
    if (!tags.damage().empty())
        return Error{fmt::format("cannot read {} as an SVG drawing: {}", name, tags.damage())};
    const Handle drawing = std::move(handle).value();
    if (!id.empty() && !rsvg_handle_has_sub(drawing.get(), ("#" + id).c_str()))
        return unknown_id_error(id, name, tags);
    const Result<Size> size = size_of(drawing.get(), name, options.width);
    if (!size) return size.error();
    const Result<CoverageGrid> coverage =
        render_coverage(drawing.get(), name, size.value(), id.empty() ? id : "#" + id);
    if (!coverage) return coverage.error();
    geometry::Outline outline(trace_outline(coverage.value()));
    if (outline.empty())
        return Error{fmt::format("{} has no visible shape: fill it with an opaque colour",
                                 id.empty() ? name : "#" + id + " of " + name)};
    return DrawnOutline{std::move(outline), Millimetres{size.value().width_mm},
                        Millimetres{size.value().height_mm}};
}

}  // namespace fadewright::plan
