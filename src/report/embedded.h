// The texts of src/report/tables, compiled in (src/embed.cmake).
#pragma once

#include "fadewright/base/files.h"

#include <span>

namespace fadewright {
std::span<const EmbeddedFile> embedded_report_texts();
}
