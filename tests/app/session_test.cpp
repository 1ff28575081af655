// A front end in process: a plan is opened, edited, drawn and printed through one session, by its text.
#include "fadewright/app/session.h"
#include "fadewright/app/page.h"
#include "fadewright/base/files.h"
#include "fadewright/plan/library.h"
#include "fadewright/render/png.h"
#include "published_table.h"

#include <sys/resource.h>

#include <atomic>
#include <catch2/catch.hpp>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

namespace {

using namespace fadewright;
using nlohmann::json;
namespace fs = std::filesystem;

std::string demo() { return app::preset_text("plans/dusk-fade-short.toml").value(); }

app::PlanInput input_of(const std::string& text, const std::string& folder = "") {
    return {"job.toml", folder, text};
}

app::PageRequest page_request(const std::string& text) { return {input_of(text), {}}; }

app::PictureRequest picture_request(const std::string& text, int size_px) {
    app::PictureRequest request;
    request.plan = input_of(text);
    request.size_px = size_px;
    return request;
}

// An empty folder of the scratch folder.
std::string empty_folder(const std::string& name) {
    const std::string folder = test::scratch_path("session-" + name);
    fs::remove_all(folder);
    fs::create_directories(folder);
    return folder;
}

bool is_empty_folder(const std::string& folder) {
    return fs::directory_iterator(folder) == fs::directory_iterator();
}

std::string written(const std::string& folder, const std::string& name, const std::string& text) {
    const std::string path = folder + "/" + name;
    fs::create_directories(fs::path(path).parent_path());
    REQUIRE(write_file_atomic(path, text));
    return path;
}

// While it lives, every write to a regular file fails, and the current and the temporary folder are `folder`.
class NoWriting {
public:
    explicit NoWriting(const std::string& folder)
        : previous_folder_(fs::current_path()), previous_handler_(std::signal(SIGXFSZ, SIG_IGN)) {
        const char* temporary = std::getenv("TMPDIR");
        previous_temporary_ = temporary ? temporary : "";
        ::setenv("TMPDIR", folder.c_str(), 1);
        fs::current_path(folder);
        ::getrlimit(RLIMIT_FSIZE, &previous_limit_);
        const rlimit none{0, previous_limit_.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &none);
    }
    ~NoWriting() {
        ::setrlimit(RLIMIT_FSIZE, &previous_limit_);
        std::signal(SIGXFSZ, previous_handler_);
        fs::current_path(previous_folder_);
        if (previous_temporary_.empty())
            ::unsetenv("TMPDIR");
        else
            ::setenv("TMPDIR", previous_temporary_.c_str(), 1);
    }
    NoWriting(const NoWriting&) = delete;
    NoWriting& operator=(const NoWriting&) = delete;

private:
    fs::path previous_folder_;
    void (*previous_handler_)(int);
    std::string previous_temporary_;
    rlimit previous_limit_{};
};

struct EditedAndPrinted {
    std::string text;
    app::Outcome preview, sheet;
};

// As a front end does it: one edit of the text, its picture and its sheet.
EditedAndPrinted edit_and_print(app::Session& session) {
    const app::PlanEdit title{app::PlanEdit::Kind::set, "title", "\"Evening door\""};
    EditedAndPrinted made;
    made.text = app::edit_plan(demo(), {&title, 1}).value();
    app::PreviewRequest preview;
    preview.plan = input_of(made.text);
    preview.out = "evening.png";
    preview.size = 120;
    made.preview = app::preview(session, preview);
    app::SheetRequest sheet;
    sheet.plan = input_of(made.text);
    sheet.out = {"evening.pdf", "evening.html"};
    sheet.labels = "cups.pdf";
    made.sheet = app::sheet(session, sheet);
    return made;
}

}  // namespace

TEST_CASE("a plan is edited, drawn and printed without a file being written", "[app][session]") {
    const std::string folder = empty_folder("quiet");
    EditedAndPrinted made;
    bool write_failed = false;
    {
        const NoWriting guard(folder);
        app::Session session;
        made = edit_and_print(session);
        write_failed = !write_file_atomic("probe", "a byte");
    }
    CHECK(write_failed);  // the guard guards
    CHECK(is_empty_folder(folder));
    CHECK(made.text.find("title = \"Evening door\"") != std::string::npos);
    REQUIRE(made.preview.artefacts.size() == 1);
    const app::Artefact& picture = made.preview.artefacts.front();
    CHECK(picture.name == "evening.png");
    CHECK(picture.mime_type == "image/png");
    const Result<Picture> read = render::read_picture(picture.bytes, picture.name);
    REQUIRE(read);
    CHECK(std::max(read.value().width, read.value().height) == 120);
    REQUIRE(made.sheet.artefacts.size() == 3);
    CHECK(made.sheet.artefacts[0].mime_type == "application/pdf");
    CHECK(made.sheet.artefacts[0].bytes.starts_with("%PDF"));
    CHECK(made.sheet.artefacts[1].bytes.find("Evening door") != std::string::npos);
    CHECK(made.sheet.artefacts[2].name == "cups.pdf");
    CHECK(made.sheet.out.find("wrote") == std::string::npos);
}

TEST_CASE("artefacts are written under their names, and an outcome says so only then", "[app][session]") {
    const std::string folder = empty_folder("written");
    app::Session session;
    app::PreviewRequest request;
    request.plan = input_of(demo());
    request.size = 60;
    request.out = folder + "/small.png";
    const app::Outcome drawn = app::preview(session, request);
    CHECK(is_empty_folder(folder));
    CHECK(drawn.out.empty());
    const app::Outcome done = app::write_artefacts(drawn);
    CHECK(done.exit == app::Exit::ok);
    CHECK(done.out.starts_with("wrote " + request.out));
    CHECK(read_file_bytes(request.out, kBinaryFileLimit_bytes).value() == drawn.artefacts.front().bytes);
    request.out = folder + "/no-such-folder/small.png";
    const app::Outcome failed = app::write_artefacts(app::preview(session, request));
    CHECK(failed.exit == app::Exit::system_error);
    CHECK(failed.out.empty());
    REQUIRE(failed.failure);
    CHECK(failed.failure->message.find("cannot write") != std::string::npos);
}

TEST_CASE("one edit in the page resolves the plan once", "[app][session]") {
    app::Session session;
    CHECK(session.resolved_count() == 0);
    const auto show = [&](const std::string& text) {
        CHECK(json::parse(app::model(session, page_request(text)).out)["valid"] == true);
        CHECK(app::picture(session, picture_request(text, 80)));
        CHECK_FALSE(app::forecast(session, page_request(text)).failure);
        app::PanelSectionRequest section;
        section.plan = input_of(text);
        CHECK_FALSE(app::panel_section(session, section).failure);
        app::SheetRequest sheet;
        sheet.plan = input_of(text);
        CHECK(app::sheet(session, sheet).exit == app::Exit::ok);
    };
    show(demo());
    CHECK(session.resolved_count() == 1);
    const app::PlanEdit edit{app::PlanEdit::Kind::set, "title", "\"Other\""};
    show(app::edit_plan(demo(), {&edit, 1}).value());
    CHECK(session.resolved_count() == 2);
    show(demo());  // undone
    CHECK(session.resolved_count() == 2);
}

TEST_CASE("listing the job log resolves nothing, a repair resolves the plan once", "[app][session]") {
    app::Session session;
    app::RecordRequest request;
    request.plan = input_of(demo());
    request.file = empty_folder("no-log") + "/log.toml";
    request.list = true;
    CHECK(app::record(session, request).exit == app::Exit::ok);
    CHECK(session.resolved_count() == 0);
    request.list = false;
    request.repair = app::PanelPoint{Millimetres{450}, Millimetres{280}};
    CHECK(app::record(session, request).exit == app::Exit::ok);
    CHECK(session.resolved_count() == 1);
}

TEST_CASE("requests that arrive together resolve the plan once", "[app][session]") {
    app::Session session;
    std::atomic<int> valid{0};
    std::vector<std::thread> requests;
    for (int i = 0; i < 4; ++i)
        requests.emplace_back([&] {
            if (!app::forecast(session, page_request(demo())).failure) ++valid;
        });
    for (std::thread& request : requests) request.join();
    CHECK(valid == 4);
    CHECK(session.resolved_count() == 1);
}

TEST_CASE("sessions share nothing", "[app][session]") {
    const std::string folder = empty_folder("library");
    std::string white = app::preset_text("paints/titanium-white.toml").value();
    (void)written(folder, "paints/shop-white.toml", white);
    app::Session with_folder(folder), without;
    std::string text = demo();
    for (std::size_t at = 0; (at = text.find("titanium-white", at)) != std::string::npos; at += 10)
        text.replace(at, std::string("titanium-white").size(), "shop-white");
    REQUIRE(text != demo());
    const json known = json::parse(app::model(with_folder, page_request(text)).out);
    INFO(known["diagnostics"].dump());
    CHECK(known["valid"] == true);
    CHECK(without.resolved_count() == 0);
    CHECK(json::parse(app::model(without, page_request(text)).out)["valid"] == false);
    CHECK(with_folder.resolved_count() == 1);
    CHECK(without.resolved_count() == 1);
}

TEST_CASE("a text beats the file of its name", "[app][session]") {
    const std::string folder = empty_folder("text");
    const std::string path = written(folder, "job.toml", "this file is not a plan");
    app::Session session;
    app::PageRequest request{app::plan_file(path), {}};
    CHECK(request.plan.folder == folder);
    CHECK(json::parse(app::model(session, request).out)["valid"] == false);
    request.plan.text = demo();
    CHECK(json::parse(app::model(session, request).out)["valid"] == true);
    CHECK(read_file_bytes(path, kTextFileLimit_bytes).value() == "this file is not a plan");
}

TEST_CASE("drawings are found in the folder of the plan, whatever the current folder", "[app][session]") {
    const std::string folder = empty_folder("drawing"), other = empty_folder("no-drawing");
    (void)written(folder, "my-guitar.svg", app::preset_text("drawings/guitar-body.svg").value());
    std::string text = app::preset_text("plans/guitar-burst.toml").value();
    const std::string shipped = "guitar-body.svg";
    std::size_t replaced = 0;
    for (std::size_t at = 0; (at = text.find(shipped, at)) != std::string::npos; ++replaced)
        text.replace(at, shipped.size(), "my-guitar.svg");
    REQUIRE(replaced > 0);
    app::Session session;
    const auto model_in = [&](const std::string& where) {
        return json::parse(app::model(session, {input_of(text, where), {}}).out);
    };
    const json found = model_in(folder);
    INFO(found["diagnostics"].dump());
    CHECK(found["valid"] == true);
    const json missing = model_in(other);
    CHECK(missing["valid"] == false);
    CHECK(missing["diagnostics"][0]["rule"] == "P019");
}

TEST_CASE("the job log of a plan given as text lies in its folder", "[app][session]") {
    const std::string folder = empty_folder("log");
    app::Session session;
    app::RecordRequest request;
    request.plan = input_of(demo(), folder);
    request.note = "warm evening";
    const app::Outcome added = app::record(session, request);
    INFO(added.err);
    CHECK(added.exit == app::Exit::ok);
    CHECK(added.out.starts_with("added to job.record.toml"));
    CHECK(app::job_log_path(request.plan) == folder + "/job.record.toml");
    CHECK(read_file_bytes(folder + "/job.record.toml", kTextFileLimit_bytes).value().find("warm evening") !=
          std::string::npos);
}

TEST_CASE("a failure is data: a message, what to do, and the diagnostics of a wrong plan", "[app][session]") {
    app::Session session;
    app::SheetRequest wrong;
    wrong.plan = input_of("plan = 1\n[panel]\nwidth = \"wide\"\n");
    const app::Outcome invalid = app::sheet(session, wrong);
    REQUIRE(invalid.failure);
    CHECK(invalid.failure->exit == app::Exit::data_error);
    REQUIRE(invalid.failure->diagnostics.has_errors());
    CHECK(invalid.failure->message == invalid.failure->diagnostics.sorted_list().front().message);
    CHECK(invalid.err == to_text(invalid.failure->diagnostics));

    app::PreviewRequest beyond;  // what to do is an option, which only the command line shows
    beyond.plan = input_of(demo());
    beyond.after_coat = 59;
    const app::Outcome refused = app::preview(session, beyond);
    REQUIRE(refused.failure);
    CHECK(refused.failure->hint.empty());
    CHECK(refused.err.find("hint: --after-coat takes 0 to ") != std::string::npos);

    app::FadeRequest cancelled;
    cancelled.plan = input_of(demo());
    cancelled.progress.is_cancelled = [] { return true; };
    const app::Outcome stopped = app::fade(session, cancelled);
    REQUIRE(stopped.failure);
    CHECK(stopped.failure->cancelled);
}

TEST_CASE("a new coat, pass and mix are valid in the plan", "[app][session]") {
    using Kind = app::PlanEdit::Kind;
    const std::string by_hand = app::preset_text("plans/dusk-fade.toml").value();
    const std::vector<app::PlanEdit> edits{
        {Kind::add, "coats", ""}, {Kind::add, "mixes.fresh", ""}, {Kind::add, "coats.1.passes", ""}};
    const Result<std::string, app::Failure> edited = app::edit_plan(by_hand, edits);
    REQUIRE(edited);
    app::Session session;
    const json model = json::parse(app::model(session, page_request(edited.value())).out);
    INFO(model["diagnostics"].dump());
    CHECK(model["valid"] == true);
    CHECK(model["coats"].back()["mix"] == "gloss-clear");
    CHECK(model["coats"].back()["even_coat_film"] == "20 um");
    const json& pass = model["coats"][1]["passes"].back();
    CHECK(pass["kind"] == "pass");
    CHECK(pass["line"] == json{{0.0, 100.0}, {300.0, 100.0}});
    const std::vector<app::PlanEdit> unknown{{Kind::set, "mixes.fresh.reduce", "\"5 %\""},
                                             {Kind::erase, "coats.99", ""}};
    const Result<std::string, app::Failure> refused = app::edit_plan(edited.value(), unknown);
    REQUIRE_FALSE(refused);
    CHECK_FALSE(refused.error().message.empty());
}
