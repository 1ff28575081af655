// The files of presets/ and of src/app/guides/, compiled in (src/embed.cmake).
#pragma once

#include "fadewright/base/files.h"

#include <span>

namespace fadewright {
std::span<const EmbeddedFile> embedded_presets();
std::span<const EmbeddedFile> embedded_guides();
}  // namespace fadewright
