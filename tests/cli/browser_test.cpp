// The HTML pages opened and printed by a browser (Debian's chromium): no request leaves the page, there are
// no script or console errors, and the printed pages have the expected content. A control page proves that
// errors are detected.
#include "pdf_tools.h"
#include "program.h"
#include "published_table.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

using namespace fadewright;
using nlohmann::json;

namespace {

struct Printed {
    int pages = 0;
    std::string text;                    // of the pages
    std::vector<std::string> asked_for;  // URLs that the page wanted from a network
    std::vector<std::string> console_errors;
};

// Requests by the browser itself have no origin.
std::vector<std::string> requests_of_page(const std::string& net_log) {
    std::vector<std::string> urls;
    const json log = json::parse(net_log);
    for (const json& event : log.at("events")) {
        const json params = event.value("params", json::object());
        if (!params.contains("initiator") || params["initiator"] == "not an origin") continue;
        urls.push_back(params["url"]);
    }
    return urls;
}

std::vector<std::string> console_lines(const std::string& log) {
    std::vector<std::string> lines;
    std::stringstream in(log);
    for (std::string line; std::getline(in, line);)
        if (line.find(":CONSOLE") != std::string::npos) lines.push_back(line);
    return lines;
}

Printed print_page(const std::string& html, const std::string& folder) {
    const std::string pdf = folder + "/printed.pdf", log = folder + "/log.txt", net = folder + "/net.json";
    test::command_output(
        "timeout 90 chromium --headless --no-sandbox --disable-gpu --no-first-run "
        "--disable-background-networking --disable-component-update --disable-sync "
        "--user-data-dir='" +
        folder +
        "/profile' --host-resolver-rules='MAP * ~NOTFOUND' --virtual-time-budget=5000 "
        "--enable-logging=stderr --v=0 --log-net-log='" +
        net +
        "' --no-pdf-header-footer "
        "--print-to-pdf='" +
        pdf + "' 'file://" + html + "' >/dev/null 2>'" + log + "'");
    return {test::page_count(pdf), test::command_output("pdftotext -layout '" + pdf + "' -"),
            requests_of_page(test::file_text(net)), console_lines(test::file_text(log))};
}

std::string plan(const std::string& title, const std::string& colour) {
    return "plan = 1\ntitle = \"" + title +
           "\"\n[panel]\nwidth = \"300 mm\"\nheight = \"200 mm\"\n"
           "[mixes.colour]\nparts = { " +
           colour +
           " = 1, titanium-white = 4 }\nreduce = \"25 %\"\n"
           "[[coats]]\nname = \"base\"\nmix = \"colour\"\ngun = \"detail-gun-fan\"\n[[coats.sweeps]]\n"
           "from = [\"-60 mm\", \"0 mm\"]\nto = [\"360 mm\", \"200 mm\"]\noverlap = \"50 %\"\n"
           "[[coats]]\nname = \"clear\"\nmix = \"gloss-clear\"\neven_coat.film = \"50 um\"\n";
}

std::string make_pages(const std::string& folder, std::vector<std::string> arguments) {
    const std::string html = folder + "/page.html";
    arguments.insert(arguments.end(), {"-o", html});
    test::RunOptions run;
    run.arguments = std::move(arguments);
    run.limit = std::chrono::seconds{60};
    const test::RunResult ran = test::run_program(run);
    INFO(ran.err);
    REQUIRE(ran.exit == 0);
    return html;
}

}  // namespace

TEST_CASE("a browser opens and prints the HTML pages without requests or errors", "[cli][browser]") {
    const std::string folder = test::fresh_folder("browser");
    const std::string control = folder + "/control.html";
    test::write_file(control,
                     "<!DOCTYPE html><title>control</title><img src=\"https://example.invalid/x.png\">"
                     "<script>missing();</script>");
    const Printed control_page = print_page(control, folder);
    CHECK(control_page.asked_for == std::vector<std::string>{"https://example.invalid/x.png"});
    CHECK(control_page.console_errors.size() == 1);

    const std::string blue = folder + "/blue.toml", ochre = folder + "/ochre.toml";
    test::write_file(blue, plan("Blue lid", "phthalo-blue-green-shade"));
    test::write_file(ochre, plan("Ochre lid", "iron-oxide-yellow"));
    const auto clean = [](const Printed& page) {
        CHECK(page.asked_for.empty());
        CHECK(page.console_errors.empty());
    };
    const Printed single_option = print_page(make_pages(folder, {"proof", blue}), folder);
    clean(single_option);
    CHECK(single_option.pages == 1);
    const Printed two_options = print_page(make_pages(folder, {"proof", blue, ochre}), folder);
    clean(two_options);
    CHECK(two_options.pages == 3);  // side by side, and a page for each
    CHECK(two_options.text.find("Option B") != std::string::npos);
    const Printed sheet = print_page(make_pages(folder, {"sheet", blue}), folder);
    clean(sheet);
    CHECK(sheet.pages == 3);  // the front, and a page for each of the two groups of coats
    CHECK(sheet.text.find("running total g") != std::string::npos);
}
