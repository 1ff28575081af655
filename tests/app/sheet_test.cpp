// The booth sheet as the command writes it: figures that agree, and paper judged by other programs' tools
// (poppler, qpdf): page boxes, fonts, sizes of letters, true scale, and nothing over anything else.
#include "fadewright/app/commands.h"
#include "fadewright/base/files.h"
#include "fadewright/report/cautions.h"
#include "pdf_tools.h"
#include "run_command.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

using namespace fadewright;
using nlohmann::json;
using test::bytes_of, test::page_count, test::command_output, test::scratch_file, test::Word, test::pdf_words;

namespace {

std::string plan_file(const std::string& name) {
    return test::source_path("presets/plans/" + name + ".toml");
}

std::string without_spaces(std::string text) {
    text.erase(std::remove_if(text.begin(), text.end(), [](unsigned char c) { return std::isspace(c) != 0; }),
               text.end());
    return text;
}

app::SheetRequest sheet_request(const std::string& plan) {
    app::SheetRequest request;
    request.plan = app::plan_file(plan);
    return request;
}

json figures_of(const std::string& plan) {
    app::SheetRequest request = sheet_request(plan);
    request.json = true;
    const app::Outcome outcome = test::run(app::sheet, request);
    INFO(outcome.err);
    REQUIRE(outcome.exit == app::Exit::ok);
    return json::parse(outcome.out);
}

std::string written(const std::string& plan, const std::string& ending,
                    report::Paper paper = report::Paper::A4, std::optional<UnitSystem> units = {}) {
    app::SheetRequest request = sheet_request(plan);
    request.paper = paper;
    request.units = units;
    const std::string path = scratch_file("sheet" + ending);
    request.out = {path};
    const app::Outcome outcome = test::run(app::sheet, request);
    INFO(outcome.err);
    REQUIRE(outcome.exit == app::Exit::ok);
    return path;
}

std::string labels(const std::string& plan) {
    app::SheetRequest request = sheet_request(plan);
    request.labels = scratch_file("labels.pdf");
    REQUIRE(test::run(app::sheet, request).exit == app::Exit::ok);
    return request.labels;
}

std::string saved_plan(const std::string& text) {
    const std::string path = scratch_file("plan.toml");
    REQUIRE(write_file_atomic(path, text));
    return path;
}

const std::string kTwoCoats =
    "plan = 1\ntitle = \"Lid\"\n%\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n"
    "[mixes.blue]\nparts = { phthalo-blue-green-shade = 1, titanium-white = 4 }\nreduce = \"25 %\"\n"
    "[[coats]]\nname = \"base\"\nmix = \"blue\"\ngun = \"detail-gun-fan\"\n[[coats.sweeps]]\n"
    "from = [\"-60 mm\", \"0 mm\"]\nto = [\"360 mm\", \"200 mm\"]\noverlap = \"50 %\"\nrepeats = 2\n"
    "[[coats]]\nname = \"clear\"\nmix = \"gloss-clear\"\neven_coat.film = \"80 um\"\n";

std::string two_coats(const std::string& mixing = "") {
    std::string text = kTwoCoats;
    return saved_plan(text.replace(text.find('%'), 1, mixing));
}

// Letters reach from the descender to the ascender of the font: 1.164 ems.
constexpr double kBoxPerEm = 1.164;

const std::vector<std::string> kPlans{"dusk-fade",  "dusk-fade-short", "guitar-burst",
                                      "soft-hills", "carved-sign",     "drum-ring"};

const std::vector<std::string> kFastPlans{"dusk-fade", "dusk-fade-short", "soft-hills"};

}  // namespace

TEST_CASE("the balance of a mix adds up to its volume, and its weights to the recipe", "[app][sheet]") {
    for (const std::string& name : kPlans) {
        INFO(name);
        const json sheet = figures_of(plan_file(name));
        for (const json& mix : sheet["mixes"]) {
            INFO(mix["name"]);
            double parts = 0;
            for (const auto& [use, mL] : mix["balance_mL"].items()) parts += mL.get<double>();
            CHECK(parts == Approx(mix["sprayable_mL"].get<double>()).epsilon(1e-3));
            double grams = 0, mL = 0;
            for (const json& p : mix["recipe"]) {
                grams += p["grams"].get<double>();
                mL += p["mL"].get<double>();
                CHECK(p["running_total_g"].get<double>() == Approx(grams).margin(1e-5));
                CHECK(std::abs(p["grams"].get<double>() - p["exact_g"].get<double>()) <=
                      p["weighing_error"].get<double>() * p["exact_g"].get<double>() + 1e-4);
            }
            CHECK(mL == Approx(mix["sprayable_mL"].get<double>()).epsilon(1e-3));
            CHECK(grams == Approx(mix["grams"].get<double>()).epsilon(1e-6));
        }
        double of_mixes = 0, of_coats = 0;
        for (const json& mix : sheet["mixes"]) of_mixes += mix["balance_mL"]["on_panel"].get<double>();
        for (const json& coat : sheet["coats"]) of_coats += coat["on_panel_mL"].get<double>();
        CHECK(of_mixes == Approx(of_coats).epsilon(1e-6));
    }
}

TEST_CASE("the table for a spreadsheet holds the same weighings", "[app][sheet]") {
    const json sheet = figures_of(plan_file("dusk-fade"));
    std::stringstream csv(bytes_of(written(plan_file("dusk-fade"), ".csv")));
    std::string line;
    std::getline(csv, line);
    CHECK(line ==
          "mix,order,paint,parts,percent_of_mix,percent_of_paint,mL,grams,running_total_g,error_percent");
    for (const json& mix : sheet["mixes"])
        for (const json& p : mix["recipe"]) {
            REQUIRE(std::getline(csv, line));
            std::stringstream cells(line);
            std::vector<std::string> cell;
            for (std::string text; std::getline(cells, text, ',');) cell.push_back(text);
            REQUIRE(cell.size() == 10);
            CHECK(cell[0] == mix["name"].get<std::string>());
            CHECK(cell[2] == p["paint"].get<std::string>());
            CHECK(std::stod(cell[4]) == Approx(100 * p["share_of_mix"].get<double>()).margin(1e-3));
            CHECK(std::stod(cell[8]) == Approx(p["running_total_g"].get<double>()).margin(1e-6));
        }
    CHECK_FALSE(std::getline(csv, line));
}

TEST_CASE("passes at one spacing are listed as one row", "[app][sheet]") {
    const json sheet = figures_of(plan_file("dusk-fade"));
    const json& rows = sheet["coats"][0]["rows"];
    // A sweep from 60 mm below the panel upwards, sprayed three times.
    REQUIRE(rows.size() == 1);
    CHECK(rows[0]["first"] == 1);
    CHECK(rows[0]["last"] == 9);
    CHECK(rows[0]["repeats"] == 3);
    CHECK(rows[0]["position"].get<std::string>().find("80 mm apart") != std::string::npos);
    CHECK(sheet["coats"][0]["passes"] == 27);
    const json burst = figures_of(plan_file("guitar-burst"));
    CHECK(burst["coats"][1]["rows"][0]["position"] == "22 mm inside the edge");
}

TEST_CASE("sheet and labels are sound files to another program", "[app][sheet][pdf]") {
    for (const std::string& pdf : {written(plan_file("dusk-fade"), ".pdf"), labels(plan_file("dusk-fade"))}) {
        const std::string said = command_output("qpdf --check '" + pdf + "'");
        CHECK(said.find("No syntax or stream encoding errors found") != std::string::npos);
    }
}

TEST_CASE("the sheet on paper is of the paper's size, and in embedded fonts", "[app][sheet][pdf]") {
    // A4 is 210 x 297 mm, Letter 8.5 x 11 in; a point is 1/72 in.
    for (const auto& [paper, box] : {std::pair{report::Paper::A4, "595.28   841.89"},
                                     std::pair{report::Paper::Letter, "612.00   792.00"}}) {
        const std::string pdf = written(plan_file("dusk-fade"), ".pdf", paper);
        const int pages = page_count(pdf);
        CHECK(pages >= 6);  // a front page and five coats
        CHECK(pages <= 8);
        test::check_boxes_and_fonts(pdf, box);
    }
}

TEST_CASE("the sheet on paper says every weighing, large", "[app][sheet][pdf]") {
    const json sheet = figures_of(plan_file("dusk-fade-short"));
    const std::vector<Word> words = pdf_words(written(plan_file("dusk-fade-short"), ".pdf"));
    for (const json& mix : sheet["mixes"])
        for (const json& p : mix["recipe"]) {
            std::stringstream reads;
            reads.precision(1);
            reads << std::fixed << p["running_total_g"].get<double>();
            INFO(p["paint"] << " " << reads.str());
            const bool large = std::any_of(words.begin(), words.end(), [&](const Word& w) {
                return w.text == reads.str() && w.height() >= 18 * kBoxPerEm * 0.99;
            });
            CHECK(large);
            CHECK(std::any_of(words.begin(), words.end(),
                              [&](const Word& w) { return w.text == p["paint"].get<std::string>(); }));
        }
    for (const Word& w : words) {
        INFO(w.text);
        CHECK(w.height() >= 12 * kBoxPerEm * 0.99);
    }
}

TEST_CASE("nothing on the sheet overlaps or leaves the page", "[app][sheet][pdf]") {
    for (const report::Paper paper : {report::Paper::A4, report::Paper::Letter})
        for (const std::string& name : paper == report::Paper::A4 ? kPlans : kFastPlans) {
            const report::PaperSize size = report::size_of(paper);
            const double width = size.width_mm * 72 / 25.4, height = size.height_mm * 72 / 25.4;
            std::vector<Word> words = pdf_words(written(plan_file(name), ".pdf", paper));
            for (const Word& w : words) {
                INFO(name << " page " << w.page << ": " << w.text);
                CHECK(w.x0 >= 20);
                CHECK(w.x1 <= width - 20);
                CHECK(w.y0 >= 20);
                CHECK(w.y1 <= height - 10);
            }
            INFO(name);
            CHECK(test::overlapping_words(words) == "");
        }
}

TEST_CASE("the sheet's bar is 100 millimetres or 4 inches long", "[app][sheet][pdf][units]") {
    for (const report::Paper paper : {report::Paper::A4, report::Paper::Letter})
        for (const auto& [units, long_mm] :
             {std::pair{UnitSystem::metric, 100.0}, std::pair{UnitSystem::us, 4 * 25.4}}) {
            const Picture page = test::render_page(written(two_coats(), ".pdf", paper, units), 1);
            const int rows = test::count_bar_rows(page, long_mm);  // the bar is 2.2 mm high
            CHECK(rows >= 20);
            CHECK(rows <= 24);
        }
}

TEST_CASE("the same plan gives the same sheet, byte for byte", "[app][sheet][pdf]") {
    const std::string once = bytes_of(written(two_coats(), ".pdf"));
    CHECK(bytes_of(written(two_coats(), ".pdf")) == once);
}

TEST_CASE("every sheet has the eight cautions, and a plan can only add to them", "[app][sheet]") {
    const std::vector<std::string> fixed = report::cautions();
    REQUIRE(fixed.size() == 8);
    for (const std::string ending : {".html", ".pdf"}) {
        INFO(ending);
        // Without spaces and line ends, wherever a line is broken.
        const auto text_of = [&](const std::string& plan) {
            const std::string path = written(plan, ending);
            return without_spaces(ending == ".pdf" ? command_output("pdftotext -layout '" + path + "' -")
                                                   : bytes_of(path));
        };
        const std::string default_text = text_of(two_coats());
        for (const std::string words :
             {"isocyanates", "supplied-air respirator", "a cartridge mask is not enough", "waterborne",
              "Sanding dust", "lead", "no flame", "hot lamp", "Ground (earth) the gun", "extraction",
              "gloves", "closed metal can", "licensed waste site", "fuel tanks", "helmets",
              "safety data sheet", "licensed practice"}) {
            INFO(words);
            CHECK(default_text.find(without_spaces(words)) != std::string::npos);
        }
        for (const std::string never : {"complies", "compliant", "certified"}) {
            INFO(never);
            CHECK(default_text.find(never) == std::string::npos);
        }
        const std::string own = "Hood on before the gun is filled";
        const std::string extended = text_of(two_coats("[mixing]\nsafety_extra = [\"" + own + "\"]\n"));
        std::size_t at = 0;  // the eight in their order, then the plan's own
        for (const std::string& line : report::cautions({own})) {
            INFO(line);
            if (line != own) CHECK(default_text.find(without_spaces(line)) != std::string::npos);
            const std::size_t found = extended.find(without_spaces(line), at);
            CHECK(found != std::string::npos);
            at = std::max(at, found == std::string::npos ? at : found);
        }
    }
}

TEST_CASE("a caution stands on every page and label and at the end of text and HTML", "[app][sheet]") {
    const std::string pdf = written(two_coats(), ".pdf");
    const int pages = page_count(pdf);
    REQUIRE(pages >= 3);
    for (int page = 1; page <= pages; ++page) {
        INFO("page " << page);
        const std::string number = std::to_string(page);
        const std::string text = without_spaces(
            command_output("pdftotext -layout -f " + number + " -l " + number + " '" + pdf + "' -"));
        for (const std::string words : {"Extraction on, supplied-air respirator for 2K paint, no sparks.",
                                        "Local law, safety data sheets and licensed practice come first."})
            CHECK(text.find(without_spaces(words)) != std::string::npos);
    }
    const std::string both =
        "Extraction on, supplied-air respirator for 2K paint, no sparks. "
        "Local law, safety data sheets and licensed practice come first.";
    const std::string html = bytes_of(written(two_coats(), ".html")),
                      text = test::run(app::sheet, sheet_request(two_coats())).out;
    CHECK(html.find(both) > html.rfind("Drying times"));
    CHECK(html.find(both) != std::string::npos);
    CHECK(text.ends_with(both + "\n"));
    for (const std::string& line : report::cautions()) CHECK(text.find(line) != std::string::npos);
    const std::string label_text =
        without_spaces(command_output("pdftotext '" + labels(two_coats()) + "' -"));
    std::size_t count = 0;
    const std::string caution =
        without_spaces("Extraction on, supplied air for 2K, no sparks. Law and data sheets first.");
    for (std::size_t at = label_text.find(caution); at != std::string::npos;
         at = label_text.find(caution, at + 1))
        ++count;
    CHECK(count == figures_of(two_coats())["mixes"].size());
    for (const report::Paper paper : {report::Paper::A4, report::Paper::Letter}) {
        app::SheetRequest request = sheet_request(plan_file("dusk-fade"));
        request.paper = paper;
        request.labels = scratch_file("labels.pdf");
        REQUIRE(test::run(app::sheet, request).exit == app::Exit::ok);
        CHECK(test::overlapping_words(pdf_words(request.labels)) == "");
    }
}

TEST_CASE("where flakes are dosed the sheet warns of their dust and of gas in closed cans", "[app][sheet]") {
    const std::string flakes = plan_file("candy-drop");
    const std::string text = test::run(app::sheet, sheet_request(flakes)).out,
                      html = bytes_of(written(flakes, ".html"));
    const std::string paper = command_output("pdftotext '" + written(flakes, ".pdf") + "' -");
    for (const std::string& sheet : {text, html, paper})
        for (const std::string words :
             {"combustible dust", "No bare aluminium flake", "water-based reducer"}) {
            INFO(words);
            CHECK(without_spaces(sheet).find(without_spaces(words)) != std::string::npos);
        }
    CHECK(test::run(app::sheet, sheet_request(two_coats())).out.find("combustible dust") ==
          std::string::npos);
}

TEST_CASE("a clear that is too thick and the drying times of the plan are shown", "[app][sheet]") {
    const std::string plan = two_coats("[mixing]\nrecoat = \"50 min\"\n");
    const json sheet = figures_of(plan);
    CHECK(sheet["coats"][1]["checkpoints"].dump().find("too thick for one clear") != std::string::npos);
    CHECK(sheet["coats"][0]["drying_seconds"]["recoat"] == 3000);
    CHECK(command_output("pdftotext -layout '" + written(plan, ".pdf") + "' -").find("50 min") !=
          std::string::npos);
}

TEST_CASE("coats of one cup stand on one page, each with its own setting of the gun", "[app][sheet]") {
    std::string text = bytes_of(two_coats());
    const std::size_t clear = text.find("[[coats]]\nname = \"clear\"");
    text.insert(
        clear,
        "[[coats]]\nname = \"again\"\nmix = \"blue\"\ngun = \"detail-gun-fan\"\ndistance = \"180 mm\"\n"
        "[[coats.passes]]\npath = [[\"-60 mm\", \"100 mm\"], [\"360 mm\", \"100 mm\"]]\n");
    const std::string plan = saved_plan(text);
    const std::string paper = command_output("pdftotext -layout '" + written(plan, ".pdf") + "' -");
    const std::string html = bytes_of(written(plan, ".html"));
    CHECK(paper.find("coats 1 to 2 of 3") != std::string::npos);
    for (const std::string& sheet : {paper, html}) {
        CHECK(sheet.find("then go on with the same mix") != std::string::npos);
        CHECK(sheet.find("180 mm") != std::string::npos);  // this coat's distance
        CHECK(sheet.find("120 mm") != std::string::npos);  // the gun's own
    }
    CHECK(figures_of(plan)["mixes"].size() == 2);
}

TEST_CASE("the HTML sheet needs nothing but itself", "[app][sheet]") {
    const std::string html = bytes_of(written(plan_file("dusk-fade"), ".html"));
    CHECK(html.find("<script") == std::string::npos);
    for (const std::string word : {"src=", "href=", "url(", "@import"}) {
        INFO(word);
        CHECK(html.find(word) == std::string::npos);
    }
    for (const std::string tag : {"table", "tr", "td", "ul", "li", "svg", "dl", "h2", "p"}) {
        INFO(tag);
        const auto count = [&](const std::string& part) {
            std::size_t n = 0;
            for (std::size_t at = html.find(part); at != std::string::npos; at = html.find(part, at + 1)) ++n;
            return n;
        };
        CHECK(count("<" + tag + ">") + count("<" + tag + " ") == count("</" + tag + ">"));
        CHECK(count("</" + tag + ">") > 0);
    }
    const std::string odd = two_coats();
    std::string text = bytes_of(odd);
    text.replace(text.find("Lid"), 3, "Lid <b>&</b>");
    CHECK(bytes_of(written(saved_plan(text), ".html")).find("<b>") == std::string::npos);
}

TEST_CASE("every mix has a label with its parts, its grams, the job and the batch", "[app][sheet][pdf]") {
    const json sheet = figures_of(plan_file("dusk-fade-short"));
    const std::string pdf = labels(plan_file("dusk-fade-short"));
    const std::string text = command_output("pdftotext -layout '" + pdf + "' -");
    for (const json& mix : sheet["mixes"])
        CHECK(text.find(mix["name"].get<std::string>()) != std::string::npos);
    for (const std::string words : {"106.9 g", "9 parts", "mixed on", "batch", "dusk fade, calculated"}) {
        INFO(words);
        CHECK(text.find(words) != std::string::npos);
    }
    CHECK(page_count(pdf) == 1);
    const std::string batch = labels(two_coats("[mixing]\nbatch = \"B 17\"\n"));
    CHECK(command_output("pdftotext -layout '" + batch + "' -").find("B 17") != std::string::npos);
}

TEST_CASE("a sheet is not written to an unknown file type or over the plan", "[app][sheet]") {
    app::SheetRequest request = sheet_request(plan_file("carved-sign"));
    request.out = {scratch_file("sheet.docx")};
    CHECK(test::run(app::sheet, request).exit == app::Exit::usage_error);
    request.out.clear();
    request.labels = scratch_file("labels.png");
    CHECK(test::run(app::sheet, request).exit == app::Exit::usage_error);
    request.labels.clear();
    const std::string plan = scratch_file("plan.json");
    REQUIRE(write_file_atomic(plan, bytes_of(plan_file("carved-sign"))));
    request.plan = app::plan_file(plan);
    request.out = {plan};
    CHECK(test::run(app::sheet, request).exit == app::Exit::usage_error);
    CHECK(bytes_of(plan) == bytes_of(plan_file("carved-sign")));
    request = sheet_request(saved_plan("plan = 1\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n"));
    CHECK(test::run(app::sheet, request).exit == app::Exit::data_error);
}
