// The files of the page (src/page/), compiled in (src/embed.cmake).
#pragma once

#include "fadewright/base/files.h"

#include <span>

namespace fadewright {
std::span<const EmbeddedFile> embedded_page();
}
