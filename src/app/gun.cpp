// Learns a gun from the picture of one pass or one spot on white card.

#include "fadewright/plan/gun_card.h"

#include "card_files.h"
#include "embedded.h"
#include "fadewright/app/commands.h"
#include "fadewright/app/requests_schema.h"
#include "fadewright/render/png.h"
#include "fadewright/report/gun_card_report.h"
#include "outcome.h"

#include <fmt/core.h>

#include <filesystem>

namespace fadewright::app {
namespace {

// True if something to be written is the card's own picture.
bool is_its_picture(const std::string& out, const GunRequest& request, const plan::GunCardFile& card) {
    namespace fs = std::filesystem;
    const fs::path folder = fs::path(request.card == "-" ? "" : request.card).parent_path();
    std::error_code fault;
    return !out.empty() && fs::equivalent(out, folder / card.picture.value, fault);
}

Outcome would_lose_picture(const std::string& path) {
    return wrong_command(fmt::format("this would write over the card's picture {}", path),
                         "give the file to write another name");
}

std::optional<Outcome> written(const GunRequest& request, const plan::LearnedGun& learned, Outcome& outcome) {
    if (!request.out.empty()) {
        const Result<Done> done = write_whole(request.out, plan::gun_text(learned));
        if (!done) return refused(done.refusal());
        say_written(outcome, request.out, request.json);
    }
    if (!request.plot.empty()) {
        render::PngNotes notes;
        notes.texts = {{"Title", learned.gun.title}};
        const Result<Done> done =
            write_whole(request.plot,
                        render::png_bytes(report::gun_card_plot(learned, answer_of(request).shown()), notes));
        if (!done) return refused(done.refusal());
        say_written(outcome, request.plot, request.json);
    }
    return std::nullopt;
}

}  // namespace

Outcome gun(const GunRequest& request) {
    if (!request.out.empty() && !request.out.ends_with(".toml"))
        return wrong_command(fmt::format("cannot write a gun to '{}'", request.out),
                             "give a name that ends in .toml");
    if (!request.plot.empty() && !request.plot.ends_with(".png"))
        return wrong_command(fmt::format("cannot write a plot to '{}'", request.plot),
                             "give a name that ends in .png");
    for (const std::string& path : {request.out, request.plot})
        if (is_the_plan(path, request.card)) return would_lose_plan(request.card);
    Result<plan::Shelf> opened = plan::Shelf::open(embedded_presets(), request.shelf);
    if (!opened) return refused(opened.refusal());
    plan::Shelf shelf = std::move(opened).value();
    const Result<std::shared_ptr<const Source>> source = read_source(request.card);
    if (!source) return refused(source.refusal());
    Diagnostics diagnostics;
    diagnostics.show_in(answer_of(request).shown().system());
    const std::optional<plan::GunCardFile> card = plan::read_gun_card(source.value(), diagnostics);
    if (card)
        for (const std::string& path : {request.out, request.plot})
            if (is_its_picture(path, request, *card)) return would_lose_picture(path);
    const auto learned =
        card ? plan::learned_gun(*card, shelf, files_beside(request.card), diagnostics) : std::nullopt;
    if (!learned) return wrong_data(diagnostics, request.json);
    Outcome outcome;
    outcome.talk = to_text(diagnostics);
    outcome.out = request.json ? report::gun_card_json(*learned)
                               : report::gun_card_words(*learned, answer_of(request).shown());
    if (auto refusal = written(request, *learned, outcome)) return *refusal;
    return outcome;
}

}  // namespace fadewright::app
