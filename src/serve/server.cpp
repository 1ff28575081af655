// The questions and who answers them.
#include "fadewright/app/presets.h"
#include "fadewright/base/contract.h"
#include "fadewright/serve/questions.h"
#include "fadewright/serve/serve.h"

#include "changes.h"
#include "desk.h"
#include "embedded.h"
#include "errands.h"
#include "events.h"
#include "folder.h"
#include "guard.h"
#include "happen.h"
#include "listener.h"
#include "look.h"
#include "papers.h"
#include "pictures.h"
#include "records.h"
#include "shelf_list.h"

#include <fmt/core.h>

#include <httplib.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <charconv>
#include <filesystem>
#include <functional>
#include <map>
#include <thread>

#include <arpa/inet.h>
#include <ifaddrs.h>

namespace fadewright::serve {
namespace {

using httplib::Request;
using httplib::Response;

constexpr std::size_t kThreads = 48;
constexpr std::size_t kMostListening = 12;  // pages that hear events, each of which holds a thread
constexpr int kDeepestJson = 64;
constexpr const char* kPolicy =
    "default-src 'self'; img-src 'self' data: blob:; style-src 'self'; object-src 'none'; base-uri 'none'; "
    "frame-ancestors 'none'; form-action 'none'";

void send(const Answer& answer, Response& response) {
    response.status = answer.status;
    for (const auto& [name, value] : answer.headers) response.set_header(name, value);
    response.set_content(answer.body, answer.type);
}

// The whole body; nothing if it is too long, or came too slowly.
std::optional<std::string> body_of(const httplib::ContentReader& reader) {
    std::string body;
    const bool whole = reader([&](const char* data, std::size_t size) {
        if (body.size() + size > kMostBody_bytes) return false;
        body.append(data, size);
        return true;
    });
    return whole ? std::optional(std::move(body)) : std::nullopt;
}

// An object; anything deeper than any question needs is no question.
std::optional<Json> json_of(const std::string& body) {
    int depth = 0;
    bool too_deep = false;
    Json json = Json::parse(
        body,
        [&](int at, Json::parse_event_t, Json&) {
            depth = std::max(depth, at);
            too_deep = too_deep || at > kDeepestJson;
            return !too_deep;
        },
        false);
    if (json.is_discarded() || too_deep || !json.is_object()) return std::nullopt;
    return json;
}

std::optional<std::uint64_t> turn_of(const std::string& header) {
    std::uint64_t turn = 0;
    const auto [end, fault] = std::from_chars(header.data(), header.data() + header.size(), turn);
    return fault == std::errc{} && end == header.data() + header.size() ? std::optional(turn) : std::nullopt;
}

const EmbeddedFile* page_file(const std::string& name) {
    const auto files = embedded_page();
    const auto found =
        std::find_if(files.begin(), files.end(), [&](const EmbeddedFile& file) { return file.path == name; });
    return found == files.end() ? nullptr : &*found;
}

std::string page_type(const std::string& name) {
    if (name.ends_with(".html")) return "text/html; charset=utf-8";
    if (name.ends_with(".css")) return "text/css; charset=utf-8";
    if (name.ends_with(".js")) return "text/javascript; charset=utf-8";
    return "image/svg+xml";
}

class Bench {
public:
    Bench(Desk& desk, Folder& folder, int port)
        : desk_(desk), folder_(folder), guard_(port), events_(folder), errands_(events_) {}

    [[nodiscard]] const Guard& guard() const { return guard_; }
    void end() { events_.end(); }

    void take_over(httplib::Server& server) {
        server.set_pre_routing_handler([this](const Request& request, Response& response) {
            return let_in(request, response) ? httplib::Server::HandlerResponse::Unhandled
                                             : httplib::Server::HandlerResponse::Handled;
        });
        server.Get("/", [](const Request&, Response& response) { send_page("index.html", response); });
        server.Get(
            R"(/bench/([a-z_\-]+\.(?:html|css|js|svg)))",
            [](const Request& request, Response& response) { send_page(request.matches[1], response); });
        server.Get("/api/events", [this](const Request&, Response& response) { listen(response); });
        for (const Question& question : questions())
            if (question.path != "/api/events") answer_to(server, question, reply_to(question.path));
        server.set_error_handler([](const Request&, Response& response) {
            if (response.body.empty()) send(refuse(response.status, "there is nothing here"), response);
        });
        server.set_exception_handler([](const Request&, Response& response, const std::exception_ptr&) {
            send(refuse(500, "our bug: this could not be answered"), response);
        });
    }

private:
    using Reply = std::function<Answer(const Asked&)>;

    static void send_page(const std::string& name, Response& response) {
        const EmbeddedFile* file = page_file(name);
        if (!file) return send(refuse(404, "there is nothing here"), response);
        response.set_content(std::string(file->text), page_type(name));
    }

    // Who answers which question; each of the list has its answer (contract).
    Reply reply_to(std::string_view path) {
        const std::map<std::string_view, Reply> replies{
            {"/api/folder", [&folder = folder_](const Asked&) { return folder.listed(); }},
            {"/api/fields", [](const Asked&) { return fields(); }},
            {"/api/shelf", [&desk = desk_](const Asked&) { return shelf_list(desk); }},
            {"/api/open", [&folder = folder_](const Asked& asked) { return folder.open(asked); }},
            {"/api/begin", [&folder = folder_](const Asked& asked) { return folder.begin(asked); }},
            {"/api/save", [&folder = folder_](const Asked& asked) { return folder.save(asked); }},
            {"/api/check", [&desk = desk_](const Asked& asked) { return checked(desk, asked); }},
            {"/api/look", [&desk = desk_](const Asked& asked) { return looked(desk, asked); }},
            {"/api/change", [](const Asked& asked) { return changed(asked); }},
            {"/api/picture", [this](const Asked& asked) { return pictures_.picture(desk_, asked); }},
            {"/api/strip", [this](const Asked& asked) { return strip(asked); }},
            {"/api/happen", [&desk = desk_](const Asked& asked) { return will_happen(desk, asked); }},
            {"/api/section", [&desk = desk_](const Asked& asked) { return along_line(desk, asked); }},
            {"/api/ways", [this](const Asked& asked) { return errand(ways, asked); }},
            {"/api/tune", [this](const Asked& asked) { return errand(tuned, asked); }},
            {"/api/record", [&desk = desk_](const Asked& asked) { return record(desk, asked); }},
            {"/api/paper", [this](const Asked& asked) { return errand(paper, asked); }},
            {"/api/stop", [this](const Asked& asked) { return errands_.stop(asked); }}};
        const auto found = replies.find(path);
        FW_EXPECTS(found != replies.end());
        return found->second;
    }

    Answer errand(Answer (*answered)(Desk&, const Asked&, Errand&), const Asked& asked) {
        return errands_.run(asked, [&](Errand& one) { return answered(desk_, asked, one); });
    }

    Answer strip(const Asked& asked) {
        return errands_.run(asked, [&](Errand& one) { return pictures_.strip(desk_, asked, one); });
    }

    static void answer_to(httplib::Server& server, const Question& question, const Reply& reply) {
        const std::string path(question.path);
        if (question.method == "GET") {
            server.Get(path, [reply](const Request&, Response& response) { send(reply({}), response); });
            return;
        }
        server.Post(
            path, [reply](const Request& request, Response& response, const httplib::ContentReader& reader) {
                if (!request.get_header_value("Content-Type").starts_with("application/json"))
                    return send(refuse(415, "questions are JSON"), response);
                const std::optional<std::string> body = body_of(reader);
                if (!body) {
                    response.set_header("Connection", "close");
                    return send(refuse(413, "the question is too long or too slow"), response);
                }
                std::optional<Json> json = json_of(*body);
                if (!json) return send(refuse(400, "the question is not a JSON object"), response);
                send(reply({*std::move(json), request.get_header_value("Bench-Page").substr(0, 64),
                            turn_of(request.get_header_value("Bench-Turn")), client_left()}),
                     response);
            });
    }

    // True if the request may go on to who answers it.
    bool let_in(const Request& request, Response& response) const {
        response.set_header("Content-Security-Policy", kPolicy);
        response.set_header("X-Content-Type-Options", "nosniff");
        response.set_header("Referrer-Policy", "no-referrer");
        response.set_header("Cache-Control", "no-store");
        const std::string host = request.get_header_value("Host");
        if (!guard_.right_host(host) || !guard_.right_origin(request.get_header_value("Origin"), host)) {
            send(refuse(403, "the bench is not asked under this name"), response);
            return false;
        }
        if (request.path == "/" && request.has_param("key")) {
            if (!guard_.right_key(request.get_param_value("key"))) return without_key(response);
            response.set_header("Set-Cookie", guard_.cookie());
            response.set_redirect("/");
            return false;
        }
        if (guard_.right_cookie(request.get_header_value("Cookie"))) return true;
        return without_key(response);
    }

    static bool without_key(Response& response) {
        send(refuse(401, "the bench is locked", "open the address that fadewright serve printed"), response);
        return false;
    }

    void listen(Response& response) {
        if (listening_.fetch_add(1) >= kMostListening) {
            --listening_;
            return send(refuse(503, "too many pages are open"), response);
        }
        const auto since = std::make_shared<std::uint64_t>(events_.now());
        response.set_chunked_content_provider(
            "text/event-stream",
            [this, since, begun = false](std::size_t, httplib::DataSink& sink) mutable {
                const std::optional<std::string> text = std::exchange(begun, true)
                                                            ? events_.next(*since)
                                                            : std::optional<std::string>(": hello\n\n");
                if (!text) {
                    sink.done();
                    return true;
                }
                return sink.write(text->data(), text->size());
            },
            [this](bool) { --listening_; });
    }

    Desk& desk_;
    Folder& folder_;
    Guard guard_;
    Events events_;
    Errands errands_;
    Pictures pictures_;
    std::atomic<std::size_t> listening_{0};
};

// This machine's addresses that other machines can reach.
std::vector<std::string> addresses() {
    std::vector<std::string> found;
    ifaddrs* list = nullptr;
    if (::getifaddrs(&list) != 0) return found;
    for (const ifaddrs* one = list; one; one = one->ifa_next) {
        if (!one->ifa_addr || one->ifa_addr->sa_family != AF_INET) continue;
        std::array<char, INET_ADDRSTRLEN> text{};
        const auto* address = reinterpret_cast<const sockaddr_in*>(one->ifa_addr);
        ::inet_ntop(AF_INET, &address->sin_addr, text.data(), text.size());
        if (std::string_view(text.data()) != "127.0.0.1") found.emplace_back(text.data());
    }
    ::freeifaddrs(list);
    return found;
}

std::string told_address(const ServeRequest& request, int port, const std::string& key) {
    std::string text = fmt::format("the bench is open at http://127.0.0.1:{}/?key={}\n", port, key);
    if (request.lan) {
        for (const std::string& address : addresses())
            text += fmt::format("on this network at http://{}:{}/?key={}\n", address, port, key);
        text +=
            "whoever has an address with its key can read and change the plans of this folder; nothing is "
            "encrypted on the way: use it only on a network you trust\n";
    }
    return text + "Ctrl+C closes it\n";
}

app::Outcome refused(const std::string& message) {
    return {app::Exit::refused, "", "error: " + message + "\n"};
}

}  // namespace

app::Outcome serve(const ServeRequest& request) {
    std::error_code fault;
    const std::string shelf_folder =
        request.shelf.empty() ? "" : std::filesystem::absolute(request.shelf, fault).string();
    Result<plan::Shelf> shelf = app::open_shelf(shelf_folder);
    if (!shelf) return refused(shelf.refusal().message);
    const std::filesystem::path where = std::filesystem::absolute(request.folder, fault).lexically_normal();
    std::filesystem::current_path(where, fault);
    if (fault) return refused(fmt::format("cannot open the folder {}: {}", request.folder, fault.message()));
    const std::string title = (where.has_filename() ? where : where.parent_path()).filename().string();

    Listener server;
    server.new_task_queue = [] { return new httplib::ThreadPool(kThreads); };
    server.set_payload_max_length(kMostBody_bytes);
    server.set_tcp_nodelay(true);  // small answers would wait forty milliseconds for company
    server.set_keep_alive_max_count(1000);
    const char* host = request.lan ? "0.0.0.0" : "127.0.0.1";
    int port = request.port;
    if (port == 0)
        port = server.bind_to_any_port(host);
    else if (!server.bind_to_port(host, port))
        port = -1;
    if (port < 0)
        return refused(request.port == 0
                           ? "no port of this machine is free"
                           : fmt::format("port {} is taken; --port 0 takes a free one", request.port));
    Desk desk(std::move(shelf).value(), shelf_folder);
    Folder folder(title);
    Bench bench(desk, folder, port);
    bench.take_over(server);
    if (request.told) request.told(told_address(request, port, bench.guard().key()));
    std::atomic<bool> over{false};
    std::thread ending([&] {
        while (!over && !(request.stopped && request.stopped()))
            std::this_thread::sleep_for(std::chrono::milliseconds(50));
        bench.end();
        server.stop();
    });
    server.listen_after_bind();
    over = true;
    ending.join();
    return {};
}

}  // namespace fadewright::serve
