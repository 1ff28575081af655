// Learns a paint from a test card, or prints a blank card to spray on.

#include "fadewright/plan/card.h"
#include "card_files.h"
#include "embedded.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/report/blank_card.h"
#include "fadewright/report/card_report.h"
#include "fadewright/report/scale_bar.h"
#include "outcome.h"

#include <fmt/core.h>

namespace fadewright::app {
namespace {

Outcome blank_card(const CardRequest& request) {
    if (request.out.empty()) return wrong_command("the blank card needs a file to go to", "add  -o card.pdf");
    if (!request.out.ends_with(".pdf"))
        return wrong_command(fmt::format("cannot write a blank card to '{}'", request.out),
                             "give a name that ends in .pdf");
    const Result<Done> written =
        write_whole(request.out, report::blank_card_pdf(request.paper, answer_of(request).shown()));
    if (!written) return refused(written.refusal());
    Outcome outcome;
    if (request.json) {
        outcome.out = fmt::format("{{\n  \"file\": {}\n}}\n", reading::quoted(request.out));
    } else {
        say_written(outcome, request.out, false);
        outcome.out += fmt::format("print it at actual size and measure the bar: {}\n",
                                   report::bar_words(answer_of(request).shown()));
    }
    return outcome;
}

}  // namespace

Outcome card(const CardRequest& request) {
    if (request.blank) return blank_card(request);
    if (request.card.empty())
        return wrong_command("a card file is missing", "name one, or print a card with  --blank -o card.pdf");
    if (is_the_plan(request.out, request.card)) return would_lose_plan(request.card);
    Result<plan::Shelf> opened = plan::Shelf::open(embedded_presets(), request.shelf);
    if (!opened) return refused(opened.refusal());
    plan::Shelf shelf = std::move(opened).value();
    const Result<std::shared_ptr<const Source>> source = read_source(request.card);
    if (!source) return refused(source.refusal());
    Diagnostics diagnostics;
    diagnostics.show_in(answer_of(request).shown().system());
    const std::optional<plan::CardFile> file = plan::read_card(source.value(), diagnostics);
    const auto ready =
        file ? plan::ready_card(*file, shelf, files_beside(request.card), diagnostics) : std::nullopt;
    const auto learned = ready ? plan::learned(*ready, file->place, diagnostics) : std::nullopt;
    if (!learned) return wrong_data(diagnostics, request.json);
    Outcome outcome;
    outcome.talk = to_text(diagnostics);
    outcome.out =
        request.json ? report::card_json(*learned) : report::card_words(*learned, answer_of(request).shown());
    if (request.out.empty()) return outcome;
    const Result<Done> written = write_whole(request.out, plan::paint_text(learned->paint));
    if (!written) return refused(written.refusal());
    say_written(outcome, request.out, request.json);
    return outcome;
}

}  // namespace fadewright::app
