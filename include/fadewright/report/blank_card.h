// A blank spray-out card to print at true size and spray on: a black and a white half, strips for bare card
// and one to four coats, a bar of 100 mm, grey patches, and fields to fill in.
//
// Checks     tests/report/blank_card_test.cpp
#pragma once

#include "fadewright/report/pdf_sheet.h"
#include "fadewright/text/display_units.h"

#include <string>

namespace fadewright::report {

[[nodiscard]] std::string blank_card_pdf(Paper paper, DisplayUnits units = {});

}  // namespace fadewright::report
