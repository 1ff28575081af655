// Incremental rendering: after every edit of the plan only the parts of the picture that the edit changed are
// rendered.
//
// For the computed samples (render/refine.h) the films of all coats are cached, and the reflectance below the
// lowest coat that the last edit changed. After an edit
//
//     - coats with unchanged passes, gun, masks and film keep their films, in any order;
//     - coats below the lowest changed one are not calculated again;
//     - blocks in which no sample looks different stay as they are;
//     - another light, angle, exposure or number of coats keeps all films;
//     - another panel, size or margin starts from an empty cache.
//
// Accuracy   the picture is preview()'s, byte for byte
// Memory     about 0.4 kB and 8 bytes per coat for every computed sample; blocks with an edge in them keep
//            none
// Checks     tests/render/incremental_renderer_test.cpp
#pragma once

#include "fadewright/base/progress.h"
#include "fadewright/render/preview.h"

#include <functional>
#include <memory>

namespace fadewright::render {

class IncrementalRenderer {
public:
    explicit IncrementalRenderer(colour::OutputProfile profile);
    ~IncrementalRenderer();
    IncrementalRenderer(IncrementalRenderer&&) noexcept;
    IncrementalRenderer& operator=(IncrementalRenderer&&) noexcept;

    struct Stats {
        std::size_t blocks = 0;    // of the picture
        std::size_t rendered = 0;  // in the last call
    };

    // The picture of the job; nullptr if it was cancelled. The cache stays valid either way. The picture
    // belongs to this object and changes with the next call.
    const Preview* update(plan::Job job, const colour::Illuminant& light, const PreviewSettings& settings,
                          const Progress& progress = {});

    [[nodiscard]] Stats stats() const;  // of the last call

private:
    struct Cache;
    std::unique_ptr<Cache> cache_;
};

}  // namespace fadewright::render
