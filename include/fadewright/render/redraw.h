// A picture that is worked on: shown again after every edit of its plan, it paints only what the edit changed.
//
// Of the places that were worked out (render/refine.h) the films of all coats are kept, and the reflectance below
// the lowest coat that the last edit changed. After an edit
//
//     - coats whose passes, gun, masks and film stayed keep their films, wherever in the order they now stand;
//     - coats below the lowest changed one are not laid again;
//     - blocks in which no place looks different stay as they are;
//     - another light, angle, exposure or number of coats keeps all films;
//     - another panel, size or margin begins anew.
//
// Accuracy   the picture is preview()'s, byte for byte
// Memory     about 0.4 kB and 8 bytes a coat for every place worked out; blocks with an edge in them keep none
// Checks     tests/render/redraw_test.cpp
#pragma once

#include "fadewright/render/preview.h"
#include "fadewright/render/watched.h"

#include <functional>
#include <memory>

namespace fadewright::render {

class Redraw {
public:
    explicit Redraw(colour::OutputProfile profile);
    ~Redraw();
    Redraw(Redraw&&) noexcept;
    Redraw& operator=(Redraw&&) noexcept;

    struct Effort {
        std::size_t blocks = 0;   // of the picture
        std::size_t painted = 0;  // of them, now
    };

    // Asked now and then by any thread; once it says true the picture is left unfinished.
    using Stop = std::function<bool()>;

    // The picture of the job; nothing if it was stopped. What was kept stays good either way. It is this
    // object's and changes with the next call.
    const Preview* show(plan::Job job, const colour::Light& light, const PreviewSettings& settings,
                        const Stop& stop = {});
    // The same for work that somebody waits for.
    const Preview* show(plan::Job job, const colour::Light& light, const PreviewSettings& settings,
                        const Watched& watched);

    [[nodiscard]] Effort effort() const;  // of the last call

private:
    struct Kept;
    std::unique_ptr<Kept> kept_;
};

}  // namespace fadewright::render
