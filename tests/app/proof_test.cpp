// The pages for the client, as files judged by other programs' tools (poppler, qpdf).
#include "fadewright/app/commands.h"
#include "fadewright/base/files.h"
#include "fadewright/render/png.h"
#include "pdf_tools.h"
#include "run_command.h"

#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <sstream>

using namespace fadewright;
using test::bytes_of, test::command_output, test::scratch_file;

namespace {

std::string plan_text(const std::string& title, const std::string& parts) {
    return "plan = 1\ntitle = \"" + title +
           "\"\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n"
           "[mixes.colour]\nparts = { " +
           parts +
           " }\nreduce = \"25 %\"\n"
           "[[coats]]\nname = \"base\"\nmix = \"colour\"\neven_coat.film = \"60 um\"\n"
           "[[coats]]\nname = \"again\"\nmix = \"colour\"\neven_coat.film = \"20 um\"\n"
           "[[coats]]\nname = \"clear\"\nmix = \"gloss-clear\"\neven_coat.film = \"50 um\"\n";
}

std::string saved(const std::string& name, const std::string& text) {
    const std::string path = scratch_file(name);
    REQUIRE(write_file_atomic(path, text));
    return path;
}

std::string blue() {
    return saved("blue.toml", plan_text("Blue lid", "phthalo-blue-green-shade = 1, titanium-white = 4"));
}
std::string ochre() {
    return saved("ochre.toml", plan_text("Ochre lid", "iron-oxide-yellow = 1, titanium-white = 1"));
}

app::ProofRequest proof_request(const std::vector<std::string>& plans, const std::string& out) {
    app::ProofRequest request;
    for (const std::string& plan : plans) request.plans.push_back(app::plan_file(plan));
    request.out = {out};
    return request;
}

std::string written(const app::ProofRequest& request) {
    const app::Outcome outcome = test::run(app::proof, request);
    INFO(outcome.err);
    REQUIRE(outcome.exit == app::Exit::ok);
    return request.out.front();
}

std::string text_of(const std::string& pdf) { return command_output("pdftotext -layout '" + pdf + "' -"); }

bool contains(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

Picture picture_of(const std::string& path) {
    auto picture = render::read_picture(bytes_of(path), path);
    REQUIRE(picture);
    return std::move(picture).value();
}

// Pictures that a page holds; one used twice counts twice.
int pictures_on(const std::string& pdf, int page) {
    const std::string number = std::to_string(page);
    std::stringstream list(
        command_output("pdfimages -list -f " + number + " -l " + number + " '" + pdf + "'"));
    int count = -2;  // head and rule
    for (std::string line; std::getline(list, line);) ++count;
    return count;
}

}  // namespace

TEST_CASE("every option has a page, and several options have one more page side by side",
          "[app][proof][pdf]") {
    const std::string two = written(proof_request({blue(), ochre()}, scratch_file("two.pdf")));
    CHECK(test::page_count(two) == 3);
    CHECK(pictures_on(two, 1) == 2);
    CHECK(pictures_on(two, 2) == 4);  // large, and in three lights
    const std::string text = text_of(two);
    for (const std::string words : {"Option A", "Option B", "Blue lid", "Ochre lid", "option chosen"}) {
        INFO(words);
        CHECK(contains(text, words));
    }
    const std::string single = written(proof_request({blue()}, scratch_file("one.pdf")));
    CHECK(test::page_count(single) == 1);
    CHECK_FALSE(contains(text_of(single), "Option A"));
}

TEST_CASE("a page has size, colours, lights, what is not included and what approves a colour",
          "[app][proof]") {
    app::ProofRequest request = proof_request({blue()}, scratch_file("said.pdf"));
    request.out.push_back(scratch_file("said.html"));
    REQUIRE(test::run(app::proof, request).exit == app::Exit::ok);
    for (const std::string& text : {text_of(request.out[0]), bytes_of(request.out[1])}) {
        for (const std::string words :
             {"300 × 200 mm", "colour", "base, again", "gloss-clear", "Daylight", "Incandescent",
              "Fluorescent", "Not included: bodywork, other parts, wear and tear.",
              "Only a physical sample, sprayed through all coats and clear and signed, approves a colour.",
              "estimated paint data"}) {
            INFO(words);
            CHECK(contains(text, words));
        }
        for (const std::string words : {"name", "date", "signature"}) {
            INFO(words);
            CHECK((contains(text, words) ||
                   contains(text, static_cast<char>(words[0] - 32) + words.substr(1))));
        }
    }
    request.lights = {"white-led"};
    request.not_included = {"the frame"};
    REQUIRE(test::run(app::proof, request).exit == app::Exit::ok);
    const std::string own = text_of(request.out[0]);
    CHECK(contains(own, "Not included: the frame."));
    CHECK_FALSE(contains(own, "Incandescent"));
    CHECK(pictures_on(request.out[0], 1) == 2);
}

TEST_CASE("the pages are sound files of the paper's size, in embedded fonts, nothing over anything else",
          "[app][proof][pdf]") {
    // A4 is 210 x 297 mm, Letter 8.5 x 11 in; a point is 1/72 in.
    for (const auto& [paper, box] : {std::pair{report::Paper::A4, "595.28   841.89"},
                                     std::pair{report::Paper::Letter, "612.00   792.00"}}) {
        std::string tall = plan_text("Tall lid, and what stands on it", "iron-oxide-yellow = 1");
        tall.replace(tall.find("200 mm"), 6, "900 mm");
        const std::vector<std::string> plans{test::source_path("presets/plans/candy-drop.toml"),
                                             saved("tall.toml", tall), blue()};
        app::ProofRequest request = proof_request(plans, scratch_file("sound.pdf"));
        request.paper = paper;
        const std::string pdf = written(request);
        CHECK(contains(command_output("qpdf --check '" + pdf + "'"),
                       "No syntax or stream encoding errors found"));
        CHECK(test::page_count(pdf) == 4);
        test::check_boxes_and_fonts(pdf, box);
        const std::vector<test::Word> words = test::pdf_words(pdf);
        const report::PaperSize size = report::size_of(paper);
        for (const test::Word& w : words) {
            INFO("page " << w.page << ": " << w.text);
            CHECK(w.x0 >= 20);
            CHECK(w.x1 <= size.width_mm * 72 / 25.4 - 20);
            CHECK(w.y0 >= 20);
            CHECK(w.y1 <= size.height_mm * 72 / 25.4 - 20);
        }
        CHECK(test::overlapping_words(words) == "");
    }
}

TEST_CASE("coats with flakes are shown at three angles", "[app][proof][pdf]") {
    const std::string flakes = written(
        proof_request({test::source_path("presets/plans/candy-drop.toml")}, scratch_file("flakes.pdf")));
    const std::string text = text_of(flakes);
    for (const std::string words : {"15° near-specular", "45° face", "110° flop"}) {
        INFO(words);
        CHECK(contains(text, words));
    }
    CHECK(pictures_on(flakes, 1) == 7);
    CHECK_FALSE(
        contains(text_of(written(proof_request({blue()}, scratch_file("plain.pdf")))), "near-specular"));
}

TEST_CASE("the HTML pages need nothing but themselves", "[app][proof]") {
    const std::string odd =
        saved("odd.toml", plan_text("Lid <b>&</b>", "phthalo-blue-green-shade = 1, titanium-white = 4"));
    const std::string html = bytes_of(written(proof_request({odd, ochre()}, scratch_file("self.html"))));
    for (const std::string never : {"<script", "http://", "https://", "href=", "url(", "@import", "<b>&<"}) {
        INFO(never);
        CHECK_FALSE(contains(html, never));
    }
    CHECK(contains(html, "Lid &lt;b&gt;&amp;&lt;/b&gt;"));
    const auto count = [&](const std::string& part) {
        std::size_t n = 0;
        for (std::size_t at = html.find(part); at != std::string::npos; at = html.find(part, at + 1)) ++n;
        return n;
    };
    CHECK(count("src=") == 2 + 2 * 4);
    CHECK(count("src=\"data:image/png;base64,iVBORw0KGgo") == count("src="));  // how every PNG begins
    CHECK(count("<section>") == 3);
    for (const std::string tag : {"section", "figure", "div", "ul", "li", "p", "h2", "h3", "span"}) {
        INFO(tag);
        CHECK(count("<" + tag + ">") + count("<" + tag + " ") == count("</" + tag + ">"));
    }
    CHECK(contains(html, "@media print"));
    CHECK(contains(html, "break-after:page"));
}

TEST_CASE("the watermark covers every part of a picture unless it is switched off", "[app][proof]") {
    app::ProofRequest request = proof_request({blue()}, scratch_file("marked.png"));
    REQUIRE(test::run(app::proof, request).exit == app::Exit::ok);
    const Picture marked = picture_of(scratch_file("marked-a.png"));
    request.no_watermark = true;
    REQUIRE(test::run(app::proof, request).exit == app::Exit::ok);
    const Picture plain = picture_of(scratch_file("marked-a.png"));
    app::PreviewRequest preview;
    preview.plan = request.plans.front();
    preview.out = scratch_file("preview.png");
    preview.size = 1200;
    preview.margin = Millimetres{15.0};
    REQUIRE(test::run(app::preview, preview).exit == app::Exit::ok);
    const Picture bare = picture_of(preview.out);
    REQUIRE(plain.width == bare.width);
    REQUIRE(plain.height > bare.height);  // a strip of words below
    CHECK(std::equal(bare.samples.begin(), bare.samples.end(), plain.samples.begin()));
    for (int part = 0; part < 16; ++part) {
        const int w = bare.width / 4, h = bare.height / 4, x0 = part % 4 * w, y0 = part / 4 * h;
        int changed = 0;
        for (int y = y0; y < y0 + h; ++y)
            for (int x = x0; x < x0 + w; ++x)
                if (std::abs(marked.pixel(x, y)[0] - bare.pixel(x, y)[0]) > 20) ++changed;
        INFO("sixteenth " << part);
        CHECK(changed > 0.01 * w * h);
        CHECK(changed < 0.30 * w * h);
    }
}

TEST_CASE("a mix's chip has the colour of the piece", "[app][proof]") {
    // Without the clear, so that the last coat of the mix is what is seen.
    std::string text = plan_text("Lid", "phthalo-blue-green-shade = 1, titanium-white = 4");
    text.resize(text.find("[[coats]]\nname = \"clear\""));
    app::ProofRequest request = proof_request({saved("bare.toml", text)}, scratch_file("chip.html"));
    request.no_watermark = true;
    request.out.push_back(scratch_file("chip.png"));
    REQUIRE(test::run(app::proof, request).exit == app::Exit::ok);
    const std::string html = bytes_of(request.out[0]);
    const std::string head = "background:#";
    const std::size_t at = html.find(head, html.find("<ul>")) + head.size();
    const Picture picture = picture_of(scratch_file("chip-a.png"));
    for (std::size_t c = 0; c < 3; ++c) {
        const int chip = std::stoi(html.substr(at + 2 * c, 2), nullptr, 16);
        CHECK(std::abs(chip - picture.pixel(picture.width / 2, picture.height / 3)[c]) <= 1);  // dither
    }
}

TEST_CASE("no file contains the path of the plan or its owner", "[app][proof]") {
    const std::string folder = scratch_file("zanzibar");
    std::filesystem::create_directories(folder);
    const std::string plan = folder + "/quokka.toml";
    std::string text = plan_text("", "iron-oxide-yellow = 1, titanium-white = 1");
    REQUIRE(write_file_atomic(plan, text));
    app::ProofRequest request = proof_request({plan, ochre()}, scratch_file("quiet.pdf"));
    request.out.push_back(scratch_file("quiet.html"));
    request.out.push_back(scratch_file("quiet.png"));
    REQUIRE(test::run(app::proof, request).exit == app::Exit::ok);
    std::string all = text_of(request.out[0]) + command_output("pdfinfo '" + request.out[0] + "'") +
                      command_output("qpdf --qdf '" + request.out[0] + "' -") + bytes_of(request.out[1]) +
                      bytes_of(scratch_file("quiet-a.png")) + bytes_of(scratch_file("quiet-b.png"));
    for (const auto& [key, words] : render::png_texts(bytes_of(scratch_file("quiet-a.png")))) all += words;
    for (const std::string word : {"zanzibar", "quokka"}) {
        INFO(word);
        CHECK_FALSE(contains(all, word));
    }
    CHECK_FALSE(contains(all, FW_BINARY_DIR));
    CHECK_FALSE(contains(all, "Author"));
    CHECK(contains(command_output("pdfinfo '" + request.out[0] + "'"), "Creator:         fadewright\n"));
}

TEST_CASE("the same plans give the same pages, byte for byte, on any number of threads", "[app][proof]") {
    for (const std::string ending : {".pdf", ".html"}) {
        INFO(ending);
        app::ProofRequest request = proof_request({blue(), ochre()}, scratch_file("same" + ending));
        request.threads = 1;
        const std::string once = bytes_of(written(request));
        request.threads = 3;
        CHECK(bytes_of(written(request)) == once);
    }
}

TEST_CASE("pages are not written to an unknown file type or over a plan", "[app][proof]") {
    CHECK(test::run(app::proof, proof_request({blue()}, scratch_file("proof.docx"))).exit ==
          app::Exit::usage_error);
    CHECK(test::run(app::proof, proof_request(std::vector<std::string>(10, blue()), scratch_file("ten.pdf")))
              .exit == app::Exit::usage_error);
    app::ProofRequest request = proof_request({blue()}, scratch_file("dark.pdf"));
    request.lights = {"moonlight"};
    const app::Outcome outcome = test::run(app::proof, request);
    CHECK(outcome.exit == app::Exit::usage_error);
    CHECK(contains(outcome.err, "incandescent"));
    const std::string plan = scratch_file("plan-a.png");
    REQUIRE(write_file_atomic(plan, bytes_of(blue())));
    CHECK(test::run(app::proof, proof_request({plan}, scratch_file("plan.png"))).exit ==
          app::Exit::usage_error);
    CHECK(bytes_of(plan) == bytes_of(blue()));
}
