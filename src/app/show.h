// What `preview --show` asks for, and the sheet that answers it.
#pragma once

#include "fadewright/app/commands.h"
#include "fadewright/colour/profile.h"
#include "fadewright/plan/job.h"
#include "fadewright/render/faults.h"
#include "fadewright/render/preview.h"

#include <nlohmann/json_fwd.hpp>

#include <optional>
#include <string>
#include <variant>
#include <vector>

namespace fadewright::app {

enum class Show { coats, passes, film, faults, grain };

struct ShowChoice {
    Show what = Show::passes;
    std::size_t coat = 0;  // of `film`
};

// "coats", "passes", "faults", "grain", or "film:" with a coat's name or number; else the outcome that says what there
// is.
[[nodiscard]] std::variant<ShowChoice, Outcome> show_choice(const std::string& words, const plan::Job& job);

struct ShowSheet {
    Picture picture;
    double pixels_per_metre = 0;
    std::vector<render::Fault> faults;  // of Show::faults
};

[[nodiscard]] ShowSheet show_sheet(const ShowChoice& choice, const plan::Job& job, const colour::Light& light,
                                   const colour::OutputProfile& profile, render::PreviewSettings settings);

// What is wrong and what to watch, one line each, and how many checks found nothing.
[[nodiscard]] std::string faults_words(const std::vector<render::Fault>& faults);
[[nodiscard]] nlohmann::ordered_json faults_json(const std::vector<render::Fault>& faults);

}  // namespace fadewright::app
