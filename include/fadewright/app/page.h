// What a front end shows of a plan while it is edited: model, forecast, pictures, and what a plan can
// contain.
//
// Each function resolves the plan's text through the session, so requests about one text resolve it once.
// Results are JSON in `out` (the members are listed in the reference of the server's requests), or pictures.
// A wrong plan is a failure with its diagnostics; only the model has a result for it as well.
//
// Checks     tests/app/session_test.cpp, tests/serve/api_test.cpp
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/app/session.h"
#include "fadewright/base/progress.h"
#include "fadewright/text/diagnostic.h"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace fadewright::app {

struct PageRequest {
    PlanInput plan;
    std::optional<UnitSystem> units;  // of quantities in sentences; default: the plan's
};

// Panel, mixes, coats and diagnostics.
[[nodiscard]] Outcome model(Session& session, const PageRequest& request);

// The predicted result in sentences with figures: the fade, the defects, the amounts.
[[nodiscard]] Outcome forecast(Session& session, const PageRequest& request);

struct PanelSectionRequest : PageRequest {
    std::optional<PanelPoint> from, to;  // default: across the fade
    std::string light;                   // default: the plan's
};

// Colour and film build along a line.
[[nodiscard]] Outcome panel_section(Session& session, const PanelSectionRequest& request);

struct PictureRequest : PageRequest {
    std::string page;                       // id of the page; each has renderers of its own
    std::optional<std::uint64_t> sequence;  // of the request, if the page counts them
    int size_px = 1280;                     // the longer side, at least 32
    std::optional<std::size_t> after;       // number of the plan's coats shown; default: all
    std::vector<std::size_t> hidden;        // coats of the plan left out, from 0
    std::string light;                      // default: the plan's
    std::string angle;                      // aspecular, as in a plan: "15 deg"; default: the plan's
    std::string shape = "panel";            // name of a display shape
    bool without_clear = false;
    std::string overlay;              // film, defects or graininess; empty: none
    std::optional<std::size_t> coat;  // of the plan, for the overlay of its film; default: all
    bool wide_gamut = false;          // Display P3 instead of sRGB
    bool draft = false;
};

struct PagePicture {
    Artefact picture;                               // PNG
    double left_mm = 0, top_mm = 0, mm_per_px = 1;  // of its upper left corner, from the panel's lower left
    int width_px = 0, height_px = 0;
    std::string note;  // what the colours mean, or that it is darkened; may be empty
};

// One at a time for each page: a newer request cancels the one before it.
[[nodiscard]] Result<PagePicture, Failure> picture(Session& session, const PictureRequest& request);

struct ThumbnailsRequest : PageRequest {
    std::string light;   // default: the plan's
    int height_px = 96;  // 32 to 400
    Progress progress;
};

// The panel after no coat, after the plan's first coat, and so on.
[[nodiscard]] Outcome thumbnails(Session& session, const ThumbnailsRequest& request);

// The fields of a plan and of the job log, from their schemas.
[[nodiscard]] Outcome plan_schema();
// The items of the library that a plan can name, with their colours.
[[nodiscard]] Outcome library_list(Session& session);

// One edit of a plan's text (text/edit.h).
struct PlanEdit {
    enum class Kind { set, erase, move, add, rename };
    Kind kind = Kind::set;
    std::string path;   // of the value, section or item; of `add`, of the list or the new section
    std::string value;  // set: TOML; move: the item to move it before, or "end"; add: the item to copy, or
                        // empty for a new one; rename: the new name
};

// The text after all edits, or the failure of the first that is not possible.
[[nodiscard]] Result<std::string, Failure> edit_plan(const std::string& text,
                                                     std::span<const PlanEdit> edits);

}  // namespace fadewright::app
