#include "papers.h"

#include "fadewright/app/commands.h"
#include "fadewright/app/in_hand.h"
#include "fadewright/base/files.h"
#include "folder.h"

#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <vector>

#include <unistd.h>

namespace fadewright::serve {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostPaper_bytes = 64u << 20;

// A folder of its own that goes when the answer has been made.
class Workplace {
public:
    Workplace() {
        std::string pattern = (fs::temp_directory_path() / "fadewright-XXXXXX").string();
        if (::mkdtemp(pattern.data()) != nullptr) path_ = pattern;
    }
    ~Workplace() {
        std::error_code fault;
        if (!path_.empty()) fs::remove_all(path_, fault);
    }
    Workplace(const Workplace&) = delete;
    Workplace& operator=(const Workplace&) = delete;
    [[nodiscard]] bool ready() const { return !path_.empty(); }
    [[nodiscard]] std::string file(const std::string& name) const { return path_ + "/" + name; }

private:
    std::string path_;
};

// What went wrong with a command, as an answer: its JSON if it speaks of the plan, else its words.
Answer failed(const app::Outcome& outcome) {
    Json json{{"refused", "this could not be made"}, {"hint", outcome.talk}};
    if (Json::accept(outcome.out)) json["diagnostics"] = Json::parse(outcome.out);
    return answer(json, outcome.exit == app::Exit::refused ? 500 : 422);
}

Answer file_answer(const std::string& path, const std::string& name, const std::string& type) {
    Result<std::string> bytes = read_whole(path, kMostPaper_bytes);
    if (!bytes) return refuse(500, bytes.refusal().message);
    return {200,
            std::move(bytes).value(),
            type,
            {{"Content-Disposition", fmt::format("attachment; filename=\"{}\"", name)}}};
}

std::string type_of(const std::string& ending) {
    if (ending == "pdf") return "application/pdf";
    if (ending == "html") return "text/html; charset=utf-8";
    if (ending == "csv") return "text/csv; charset=utf-8";
    if (ending == "png") return "image/png";
    if (ending == "txt") return "text/plain; charset=utf-8";
    return "application/json";
}

bool one_of(const std::string& word, std::initializer_list<const char*> words) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

struct PaperWish {
    std::string file, what, as;
    report::Paper paper = report::Paper::A4;
    std::string light;
    std::vector<std::string> plans;  // of a proof: the names in hand
    std::string shelf;
    std::optional<UnitSystem> units;
    Errand* errand = nullptr;
};

template <class Request>
void watch(Request& request, Errand& errand) {
    const render::Watched watched = errand.watched();
    request.told = watched.told;
    request.stopped = watched.stopped;
}

// What every command is asked alike.
template <class Request>
Request asked_of(const PaperWish& wish) {
    Request request;
    if constexpr (requires { request.plan; }) request.plan = wish.file;
    if constexpr (requires { request.paper; }) request.paper = wish.paper;
    request.shelf = wish.shelf;
    request.units = wish.units;
    return request;
}

app::Outcome sheet(const PaperWish& wish, const std::string& out) {
    auto request = asked_of<app::SheetRequest>(wish);
    request.json = true;
    if (wish.what == "labels")
        request.labels = out;
    else
        request.out = {out};
    return app::sheet(request);
}

app::Outcome proof(const PaperWish& wish, const std::string& out) {
    auto request = asked_of<app::ProofRequest>(wish);
    request.plans = wish.plans;
    request.out = {out};
    request.json = true;
    watch(request, *wish.errand);
    return app::proof(request);
}

app::Outcome picture(const PaperWish& wish, const std::string& out) {
    auto request = asked_of<app::PreviewRequest>(wish);
    request.out = out;
    request.light = wish.light;
    request.size = 2400;
    request.json = true;
    return app::preview(request);
}

app::Outcome outline(const PaperWish& wish, const std::string& out) {
    auto request = asked_of<app::TemplateRequest>(wish);
    request.out = out;
    request.json = true;
    return app::outline_template(request);
}

// The record is words: what was mixed and sprayed, entry by entry.
app::Outcome record(const PaperWish& wish, const std::string& out) {
    auto request = asked_of<app::RecordRequest>(wish);
    request.list = true;
    app::Outcome outcome = app::record(request);
    if (outcome.exit != app::Exit::fine) return outcome;
    if (const Result<Done> done = write_whole(out, outcome.out); !done)
        return {app::Exit::refused, "", done.refusal().message};
    return outcome;
}

app::Outcome made(const PaperWish& wish, const std::string& out) {
    if (wish.what == "proof") return proof(wish, out);
    if (wish.what == "picture") return picture(wish, out);
    if (wish.what == "template") return outline(wish, out);
    if (wish.what == "record") return record(wish, out);
    return sheet(wish, out);
}

bool is_made_as(const std::string& what, const std::string& as) {
    if (what == "sheet") return one_of(as, {"pdf", "html", "csv", "json"});
    if (what == "proof") return one_of(as, {"pdf", "html", "png"});
    if (what == "picture") return as == "png";
    if (what == "record") return as == "txt";
    return one_of(what, {"template", "labels"}) && as == "pdf";
}

// Variants of a proof stand in hand under the plan's name and a number.
void take_in_hand(const Asked& asked, PaperWish& wish, std::vector<std::unique_ptr<app::InHand>>& hands) {
    hands.push_back(std::make_unique<app::InHand>(wish.file, asked.text("text")));
    const auto options = asked.body.find("plans");
    if (options == asked.body.end() || !options->is_array() || options->empty()) {
        wish.plans = {wish.file};
        return;
    }
    for (const Json& option : *options) {
        if (!option.is_object() || !option.contains("text") || !option["text"].is_string()) continue;
        const std::string name = fmt::format("option {} of {}", wish.plans.size() + 1, wish.file);
        hands.push_back(std::make_unique<app::InHand>(name, option["text"].get<std::string>()));
        wish.plans.push_back(name);
    }
}

}  // namespace

Answer paper(Desk& desk, const Asked& asked, Errand& errand) {
    PaperWish wish;
    wish.errand = &errand;
    wish.file = asked.text("file");
    wish.what = asked.text("what");
    wish.as = asked.text("as");
    wish.light = asked.text("light");
    wish.shelf = desk.shelf_folder();
    wish.units = asked_units(asked);
    if (!is_plan_name(wish.file)) return refuse(400, "the plan has no name yet", "save it first");
    if (!is_made_as(wish.what, wish.as))
        return refuse(
            400, fmt::format("there is no {} as {}", wish.what, wish.as),
            "sheet as pdf, html, csv or json; proof as pdf, html or png; picture as png; template and "
            "labels as pdf");
    if (asked.text("paper") == "Letter") wish.paper = report::Paper::Letter;
    const Workplace workplace;
    if (!workplace.ready()) return refuse(500, "there is no room for temporary files");
    std::vector<std::unique_ptr<app::InHand>> hands;
    take_in_hand(asked, wish, hands);
    const std::string name = fmt::format("{}-{}.{}", fs::path(wish.file).stem().string(), wish.what, wish.as);
    const app::Outcome outcome = made(wish, workplace.file(name));
    if (errand.over()) return was_stopped();
    return outcome.exit == app::Exit::fine ? file_answer(workplace.file(name), name, type_of(wish.as))
                                           : failed(outcome);
}

Answer checked(Desk& desk, const Asked& asked) {
    const std::string file = asked.text("file", "plan.toml");
    const app::InHand hand(file, asked.text("text"));
    app::CheckRequest request;
    request.plans = {file};
    request.shelf = desk.shelf_folder();
    request.json = true;
    const app::Outcome outcome = app::check(request);
    return {200, outcome.out, "application/json", {}};
}

namespace {

// What both commands of a fade are asked alike.
template <class Request>
Request request_about(Desk& desk, const Asked& asked, Errand& errand) {
    Request request;
    request.plan = asked.text("file", "plan.toml");
    request.shelf = desk.shelf_folder();
    request.units = asked_units(asked);
    request.json = true;
    watch(request, errand);
    return request;
}

Answer json_of(const app::Outcome& outcome) {
    return outcome.exit == app::Exit::fine ? Answer{200, outcome.out, "application/json", {}}
                                           : failed(outcome);
}

}  // namespace

Answer ways(Desk& desk, const Asked& asked, Errand& errand) {
    const app::InHand hand(asked.text("file", "plan.toml"), asked.text("text"));
    const app::Outcome outcome = app::fade(request_about<app::FadeRequest>(desk, asked, errand));
    return errand.over() ? was_stopped() : json_of(outcome);
}

// A search that is stopped gives the best so far.
Answer tuned(Desk& desk, const Asked& asked, Errand& errand) {
    const app::InHand hand(asked.text("file", "plan.toml"), asked.text("text"));
    const app::Outcome outcome = app::tune(request_about<app::TuneRequest>(desk, asked, errand));
    return errand.left() ? was_stopped() : json_of(outcome);
}

}  // namespace fadewright::serve
