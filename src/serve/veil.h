// Maps laid over the picture like a veil: where they are strong the picture shows less.
#pragma once

#include "fadewright/base/image.h"
#include "fadewright/colour/light.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/frame.h"

#include <optional>
#include <string>

namespace fadewright::serve {

enum class Veil { film, faults, grain };
[[nodiscard]] std::optional<Veil> veil_called(const std::string& name);

struct Veiled {
    Picture picture;
    std::string note;  // what the veil shows, with its scale
};

// coats: those whose film is shown, from first to before last.
[[nodiscard]] Veiled veiled(Picture picture, Veil veil, const plan::Job& job, const colour::Light& light,
                            const render::Frame& frame, std::size_t first, std::size_t last);

}  // namespace fadewright::serve
