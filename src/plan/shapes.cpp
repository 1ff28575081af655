#include "fadewright/plan/shapes.h"

#include "fadewright/base/files.h"
#include "fadewright/geometry/polyline.h"
#include "fadewright/plan/height_map.h"
#include "fadewright/plan/plan_schema.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>

namespace fadewright::plan {
namespace {

geometry::Ring ring_through(const std::vector<Point>& corners, bool smooth) {
    std::vector<geometry::Point> points;
    for (const Point& p : corners) points.push_back({p.x, p.y});
    if (points.back() == points.front()) points.pop_back();
    if (smooth && !points.empty()) points.push_back(points.front());
    const geometry::Polyline line =
        smooth ? geometry::smooth_polyline(points) : geometry::straight_polyline(points);
    geometry::Ring ring;
    for (std::size_t i = 0; i < line.x_mm.size(); ++i) ring.push_back({line.x_mm[i], line.y_mm[i]});
    if (ring.size() > 1 && ring.front() == ring.back()) ring.pop_back();
    return ring;
}

bool stays_in_folder(const std::filesystem::path& path) {
    if (path.empty() || path.is_absolute() || path.has_root_name()) return false;
    for (const auto& part : path)
        if (part == "..") return false;
    return true;
}

}  // namespace

std::optional<std::string> ShapeReader::read_bytes(const std::string& name, const SourceSpan& span) {
    if (const auto known = bytes_.find(name); known != bytes_.end()) return known->second;
    namespace fs = std::filesystem;
    if (!stays_in_folder(name)) {
        mistakes_.error("P019", span, fmt::format("'{}' is outside the folder of the plan", name),
                        "put the file into the plan's folder and give its name");
        return std::nullopt;
    }
    std::error_code error;
    const fs::path path = fs::path(plan_folder_) / name;
    if (fs::is_regular_file(path, error)) {
        Result<std::string> bytes = read_file_bytes(path.string(), kBinaryFileLimit_bytes);
        if (bytes) return bytes_[name] = std::move(bytes).value();
        mistakes_.error("P019", span, bytes.error().message, "make the file readable");
        return std::nullopt;
    }
    if (const std::shared_ptr<const Source> drawing = library_.drawing(name))
        return bytes_[name] = drawing->text();
    std::string known;
    for (const std::string& drawing_name : library_.drawings())
        known += (known.empty() ? "" : ", ") + drawing_name;
    mistakes_.error("P019", span, fmt::format("file '{}' not found in the plan's folder", name),
                    known.empty() ? "put it there" : "put it there; drawings in the library: " + known);
    return std::nullopt;
}

ShapeReader::ShapeReader(const std::shared_ptr<const Source>& source, Library& library, UnitSystem units,
                         UnreadFields unread)
    : plan_folder_(source ? source->folder() : ""), library_(library), unread_(std::move(unread)) {
    mistakes_.set_units(units);
}

std::optional<DrawnOutline> ShapeReader::read(const Shape& shape) {
    if (unread_.is_in(shape.span)) return std::nullopt;
    if (shape.drawing.empty() == shape.corners.empty()) {
        mistakes_.error("P020", shape.span,
                        shape.drawing.empty() ? "the shape has no line" : "the shape is given twice",
                        "give either  drawing = \"shape.svg\"  or corners");
        return std::nullopt;
    }
    return shape.corners.empty() ? read_drawing(shape) : read_corners(shape);
}

std::optional<DrawnOutline> ShapeReader::read_corners(const Shape& shape) {
    const geometry::Ring ring = ring_through(shape.corners, shape.smooth);
    const geometry::Outline outline({ring});
    if (!(outline.area_m2() > 0)) {
        mistakes_.error("P020", shape.span, "the corners enclose no area",
                        "give at least three corners that are not on one line");
        return std::nullopt;
    }
    if (const std::optional<geometry::PlanePoint> crossing = geometry::self_crossing(ring)) {
        const DisplayUnits units(mistakes_.units());
        mistakes_.error(
            "P032", shape.span,
            fmt::format("the shape's line crosses itself at {}, {}", units.text(Millimetres{crossing->x_mm}),
                        units.text(Millimetres{crossing->y_mm})),
            "give the corners in order around the shape");
        return std::nullopt;
    }
    return DrawnOutline{outline, Millimetres{outline.bounds().x1}, Millimetres{outline.bounds().y1}};
}

std::optional<DrawnOutline> ShapeReader::read_drawing(const Shape& shape) {
    const std::string key =
        fmt::format("{}#{}#{}", shape.drawing, shape.part, shape.width.value_or(Millimetres{}).value);
    if (const auto known = outlines_.find(key); known != outlines_.end()) return known->second;
    const std::optional<std::string> bytes = read_bytes(shape.drawing, shape.span);
    if (!bytes) return std::nullopt;
    const Result<DrawnOutline> drawn = outline_from_svg(*bytes, shape.drawing, {shape.part, shape.width});
    if (!drawn) {
        mistakes_.error("P019", shape.span, drawn.error().message,
                        "fix the drawing, or choose another part or file");
        return std::nullopt;
    }
    outlines_.emplace(key, drawn.value());
    return drawn.value();
}

namespace {

// The missing dimensions; empty if none is missing.
std::string missing_fields(const Relief& r) {
    switch (r.kind) {
        case ReliefKind::cylinder:
            return r.radius ? "" : "radius = \"180 mm\"";
        case ReliefKind::dome:
            return r.radius ? "" : "radius = \"900 mm\"";
        case ReliefKind::bevel:
            return r.width && r.depth ? "" : "width = \"20 mm\" and depth = \"6 mm\"";
        case ReliefKind::groove:
            return r.width && r.depth ? "" : "width = \"10 mm\" and depth = \"5 mm\"";
        case ReliefKind::height_map:
            return !r.picture.empty() && r.depth ? "" : "picture = \"heights.png\" and depth = \"8 mm\"";
    }
    return "";
}

}  // namespace

std::optional<spray::ReliefPart> ShapeReader::read_height_map(const Relief& r, const spray::Panel& panel) {
    const std::optional<std::string> bytes = read_bytes(r.picture, r.span);
    if (!bytes) return std::nullopt;
    Result<spray::HeightMap> map = height_map_from_png(
        *bytes, r.picture, {0, 0, panel.width.value, panel.height.value}, {-*r.depth, Millimetres{}});
    if (map) return std::move(map).value();
    mistakes_.error("P019", r.span, map.error().message, "fix the picture, or choose another one");
    return std::nullopt;
}

std::optional<spray::ReliefPart> ShapeReader::read(const Relief& r, const spray::Panel& panel) {
    if (unread_.is_in(r.span)) return std::nullopt;
    if (const std::string missing = missing_fields(r); !missing.empty()) {
        mistakes_.error("P021", r.span, "a dimension is missing", "write  " + missing);
        return std::nullopt;
    }
    const double W = panel.width.value, H = panel.height.value;
    const Point centre = r.centre.value_or(Point{Millimetres{W / 2}, Millimetres{H / 2}});
    const geometry::PlanePoint at{centre.x.value, centre.y.value};
    if (r.kind == ReliefKind::cylinder) return spray::Cylinder{at, r.axis, *r.radius};
    if (r.kind == ReliefKind::dome) return spray::Sphere{at, *r.radius};
    if (r.kind == ReliefKind::height_map) return read_height_map(r, panel);
    std::optional<geometry::Outline> around = panel.outline_or_rectangle();
    if (r.around) {
        const std::optional<DrawnOutline> drawn = read(*r.around);
        if (!drawn) return std::nullopt;
        around = drawn->outline;
    }
    if (r.kind == ReliefKind::bevel) {
        const bool round = r.profile == Profile::round;
        if (round && *r.depth > *r.width) {
            mistakes_.error(
                "P021", r.span, "a round edge cannot be deeper than it is wide",
                "give a width of at least " + DisplayUnits(mistakes_.units()).input_text(*r.depth));
            return std::nullopt;
        }
        return spray::Bevel{*around, *r.width, *r.depth,
                            round ? spray::BevelProfile::arc : spray::BevelProfile::straight};
    }
    if (r.line.empty()) return spray::Groove{spray::PolylineSet(*around), *r.width, *r.depth, r.edge};
    geometry::Ring line;
    for (const Point& p : r.line) line.push_back({p.x.value, p.y.value});
    return spray::Groove{spray::PolylineSet(std::vector<geometry::Ring>{line}), *r.width, *r.depth, r.edge};
}

std::vector<spray::ReliefPart> merge_grooves(const std::vector<spray::ReliefPart>& parts) {
    std::vector<spray::ReliefPart> out;
    std::vector<std::vector<geometry::Ring>> rings(parts.size());  // of the groove at that index of `out`
    for (const spray::ReliefPart& part : parts) {
        const auto* groove = std::get_if<spray::Groove>(&part);
        const auto same = std::find_if(out.begin(), out.end(), [&](const spray::ReliefPart& other) {
            const auto* g = std::get_if<spray::Groove>(&other);
            return groove && g && g->width == groove->width && g->depth == groove->depth &&
                   g->shoulder == groove->shoulder;
        });
        const auto at = static_cast<std::size_t>(same - out.begin());
        if (groove)
            rings[at].insert(rings[at].end(), groove->lines.polylines().begin(),
                             groove->lines.polylines().end());
        if (same == out.end()) {
            out.push_back(part);
        } else {
            *same =
                spray::Groove{spray::PolylineSet(rings[at]), groove->width, groove->depth, groove->shoulder};
        }
    }
    return out;
}

}  // namespace fadewright::plan
