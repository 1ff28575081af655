// The files a card names: pictures and measurements beside it.
#pragma once

#include "fadewright/plan/card.h"

#include <string>

namespace fadewright::app {

[[nodiscard]] plan::CardFiles files_beside(const std::string& card_path);

}  // namespace fadewright::app
