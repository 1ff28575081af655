// All displayed text uses the requested units: every command is run with both systems, and its output and
// files are checked for units of the other one. Pictures have no text to check; .ci/units.py checks that
// unit names appear in one place of the source only.
#include "pdf_tools.h"
#include "program.h"
#include "published_table.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <regex>
#include <string>
#include <vector>

using namespace fadewright;
namespace fs = std::filesystem;

namespace {

// Names of guns give the nozzle in millimetres in both systems.
constexpr std::string_view kGun = "Detail gun, 0.8 mm, fan cap";

std::string plan(const std::string& units = "") {
    return "plan = 1\ntitle = \"Lid\"\n" + units +
           "[panel]\nwidth = \"12 in\"\nheight = \"8 in\"\n"
           "[mixes.blue]\nparts = { phthalo-blue-green-shade = 1, titanium-white = 4 }\nreduce = \"25 %\"\n"
           "[mixing]\nbatch = \"17\"\n"
           "[[coats]]\nname = \"base\"\nmix = \"blue\"\ngun = \"detail-gun-fan\"\n[[coats.sweeps]]\n"
           "from = [\"-2 in\", \"0 in\"]\nto = [\"14 in\", \"8 in\"]\noverlap = \"50 %\"\n"
           "[[coats]]\nname = \"pearl\"\nmix = \"pearl-gold\"\neven_coat.film = \"0.6 mil\"\n"
           "[[coats]]\nname = \"clear\"\nmix = \"gloss-clear\"\neven_coat.film = \"2 mil\"\n";
}

const std::string kFade =
    "plan = 1\ntitle = \"Fade\"\n[panel]\nwidth = \"500 mm\"\nheight = \"300 mm\"\n"
    "[[coats]]\nname = \"fade\"\ngun = \"detail-gun-fan\"\n[coats.fade]\nfrom = \"titanium-white\"\nto = "
    "\"carbon-black\"\n"
    "method = \"mid-colours\"\nfilm = \"10 um\"\nstart = [\"250 mm\", \"280 mm\"]\nend = [\"250 mm\", \"20 "
    "mm\"]\n";

std::string values(double reflectance) {
    std::string out = "{ values = [";
    for (int band = 0; band < 36; ++band) out += (band ? ", " : "") + std::to_string(reflectance);
    return out + "] }\n";
}

std::string card() {
    return "spray_out_card = 1\ntitle = \"Grey\"\nrole = \"opaque\"\nspecular = \"excluded\"\n"
           "solids = \"40 %\"\ncoat_film = \"12 um\"\n[bare_card]\nblack = " +
           values(0.02) + "white = " + values(0.85) + "[[films]]\nfilm = \"12 um\"\nblack = " + values(0.2) +
           "white = " + values(0.5) + "[[films]]\nfilm = \"24 um\"\nblack = " + values(0.28) +
           "white = " + values(0.42);
}

struct Command {
    std::vector<std::string> arguments;
    std::vector<std::string> files;  // that it writes, below the folder
    int exit = 0;
    bool in_picture = false;  // its quantities are in the picture only
};

// Words that start with $ are files in the folder.
std::vector<Command> commands() {
    return {
        {{"check", "$wrong.toml"}, {}, 1},
        {{"check", "$small.toml"}, {}, 1},
        {{"mix", "phthalo-blue-green-shade=1", "titanium-white=4"}, {}},
        {{"mix", "pearl-gold=1", "--coats", "2"}, {}},
        {{"mix", "--plan", "$plan.toml", "--mix", "blue"}, {}},
        {{"ladder", "quinacridone-magenta", "--film", "5,10,20"}, {}},
        {{"ladder", "interference-gold", "--loading", "10,20 g/L"}, {}},
        {{"match", "--lab", "62,41,38", "--over", "grey-sealer", "--film", "12 um", "--max-paints", "2"}, {}},
        {{"section", "$plan.toml"}, {}},
        {{"preview", "$plan.toml", "--show", "defects", "--size", "200", "-o", "$defects.png"}, {}, 0, true},
        {{"fade", "$fade.toml"}, {}},
        {{"tune", "$fade.toml", "--trials", "3", "--vary", "width", "--vary", "distance"}, {}},
        {{"sheet", "$plan.toml", "-o", "$b.pdf", "-o", "$b.html", "-o", "$b.csv", "--labels", "$l.pdf"},
         {"b.pdf", "b.html", "b.csv", "l.pdf"}},
        {{"proof", "$plan.toml", "-o", "$c.pdf", "-o", "$c.html"}, {"c.pdf", "c.html"}},
        {{"template", "$plan.toml", "-o", "$t.pdf"}, {"t.pdf"}},
        {{"fit-paint", "--blank", "-o", "$blank.pdf"}, {"blank.pdf"}},
        {{"fit-paint", "$card.toml"}, {}},
        {{"fit-gun", test::source_path("tests/cards/airbrush-pass.toml")}, {}},
        {{"record", "$plan.toml", "--coat", "base", "--film", "14 um", "--air", "1.2 bar", "--distance",
          "150 mm", "--flow", "90 mL/min", "--speed", "300 mm/s", "--temperature", "22 degC"},
         {}},
        {{"record", "$plan.toml", "--list"}, {}},
        {{"record", "$plan.toml", "--repair", "6 in,4 in", "--size", "1 in"}, {}},
    };
}

std::string text_of(const std::string& path) {
    if (path.ends_with(".pdf")) return test::command_output("pdftotext -layout '" + path + "' -");
    const std::string text = test::file_text(path);
    if (!path.ends_with(".html")) return text;
    // Only the text of a page, without styles and tags.
    std::string arguments;
    for (std::size_t at = 0; at < text.size();) {
        if (text.compare(at, 6, "<style") == 0) {
            at = std::min(text.find("</style>", at), text.size());
        } else if (text[at] == '<') {
            at = std::min(text.find('>', at), text.size() - 1) + 1;
            arguments += ' ';
        } else {
            arguments += text[at++];
        }
    }
    return arguments;
}

std::string erase_all(std::string text, std::string_view arguments) {
    for (std::size_t at; (at = text.find(arguments)) != std::string::npos;) text.erase(at, arguments.size());
    return text;
}

// The output and files of the command, with the units of `more` or of the plan.
std::string output_of(const Command& command, const std::string& folder, std::vector<std::string> more) {
    test::RunOptions run;
    for (const std::string& word : command.arguments)
        run.arguments.push_back(word.starts_with('$') ? folder + "/" + word.substr(1) : word);
    run.arguments.insert(run.arguments.end(), more.begin(), more.end());
    run.limit = std::chrono::seconds{120};
    const test::RunResult ran = test::run_program(run);
    INFO(ran.err);
    CHECK(ran.exit == command.exit);
    std::string all = ran.out + ran.err;
    for (const std::string& file : command.files) all += text_of(folder + "/" + file);
    return erase_all(erase_all(all, kGun), folder);
}

// Units found in the text, with a few letters around them.
std::string units_in(const std::string& text, const std::regex& units) {
    std::string found;
    for (std::sregex_iterator hit(text.begin(), text.end(), units), end; hit != end; ++hit) {
        const auto at = static_cast<std::size_t>(hit->position());
        const std::size_t from = at > 30 ? at - 30 : 0;
        found += "[" + text.substr(from, 60) + "] ";
    }
    return found;
}

const std::regex kMetric(
    "\\b(mm|cm|um|mL|ml|cm2|m2|g/L|millimetres?|centimetres?|litres?)\\b|m²|µm|°C|\\d "
    "(bar|m|L)\\b(?!\\*)|/L\\b");
const std::regex kUs("\\b(mils?|oz|psi|inch|inches|ft|quarts?|qt)\\b|°F|\\d in\\b(?! parts)");

std::string folder_with_files(const std::string& name, const std::string& units) {
    const std::string folder = test::fresh_folder(name);
    test::write_file(folder + "/plan.toml", plan(units));
    std::string fade = kFade;
    test::write_file(folder + "/fade.toml", fade.insert(fade.find("[panel]"), units));
    // Values out of range, without units of the other system.
    std::string wrong = plan(units), small = plan(units);
    wrong.replace(wrong.find("\"12 in\""), 7, "\"90 km\"");
    small.replace(small.find("overlap"), 7, "distance = \"1e9 in\"\noverlap");
    if (units.find("us") == std::string::npos) small.replace(small.find("1e9 in"), 6, "1e9 mm");
    test::write_file(folder + "/wrong.toml", wrong);
    test::write_file(folder + "/small.toml", small);
    test::write_file(folder + "/card.toml", card());
    return folder;
}

}  // namespace

TEST_CASE("all output of a command uses the requested units", "[cli][units]") {
    for (const std::string system : {"metric", "us"}) {
        const std::string folder = folder_with_files("units-" + system, "");
        for (const Command& command : commands()) {
            if (command.exit != 0) continue;  // errors quote the plan
            const std::string text = output_of(command, folder, {"--units", system});
            INFO(system << ": " << command.arguments[0] << " " << command.arguments[1] << "\n" << text);
            CHECK(units_in(text, system == "us" ? kMetric : kUs) == "");
            if (!command.in_picture) CHECK(units_in(text, system == "us" ? kUs : kMetric) != "");
        }
    }
}

TEST_CASE("a plan sets its display units, and the command line overrides them", "[cli][units]") {
    const std::string folder = folder_with_files("units-of-plan", "units = \"us\"\n");
    const Command section{{"section", "$plan.toml"}, {}};
    CHECK(units_in(output_of(section, folder, {}), kMetric) == "");
    CHECK(units_in(output_of(section, folder, {"--units", "metric"}), kUs) == "");
    const Command sheet{{"sheet", "$plan.toml"}, {}};
    CHECK(output_of(sheet, folder, {}) == output_of(sheet, folder, {"--units", "us"}));
    CHECK(units_in(output_of({{"check", "$small.toml"}, {}, 1}, folder, {}), kMetric) == "");
    CHECK(units_in(output_of({{"check", "$small.toml"}, {}, 1}, folder, {"--units", "metric"}), kMetric) !=
          "");
}

TEST_CASE("JSON is always metric", "[cli][units]") {
    const std::string folder = folder_with_files("units-json", "units = \"us\"\n");
    const std::string metric = folder_with_files("units-json-metric", "");
    for (const Command& command : commands()) {
        if (command.exit != 0 || command.arguments[0] == "record") continue;  // has dates and hashes
        INFO(command.arguments[0] << " " << command.arguments[1]);
        std::string as_us = output_of(command, folder, {"--json", "--units", "us"});
        const std::string own_text = output_of(command, folder, {"--json"});
        CHECK(units_in(own_text, kUs) == "");
        CHECK(as_us == own_text);
    }
}

TEST_CASE("units change the displayed text only", "[cli][units]") {
    const std::string folder = folder_with_files("units-figures", "");
    const auto pixels = [&](const std::string& system) {
        const Command command{{"preview", "$plan.toml", "--size", "200", "-o", "$panel.png"}, {}};
        (void)output_of(command, folder, {"--units", system});
        return test::file_text(folder + "/panel.png");
    };
    CHECK(pixels("metric") == pixels("us"));
    // An expanded plan keeps the units of the plan.
    const auto expanded = [&](const std::string& system) {
        return output_of({{"fade", "$fade.toml", "--expand"}, {}}, folder, {"--units", system});
    };
    CHECK(expanded("metric") == expanded("us"));
}
