// The endpoints with their handlers, and the start and end of the server.
#include "fadewright/app/page.h"
#include "fadewright/app/session.h"
#include "fadewright/base/contract.h"
#include "fadewright/serve/routes.h"
#include "fadewright/serve/serve.h"

#include "auth.h"
#include "embedded.h"
#include "events.h"
#include "exports.h"
#include "folder.h"
#include "http_server.h"
#include "plan_requests.h"
#include "tasks.h"

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
constexpr std::size_t kMaxEventStreams = 12;  // open event streams; each holds a thread
constexpr int kMaxJsonDepth = 64;
constexpr const char* kContentSecurityPolicy =
    "default-src 'self'; img-src 'self' data: blob:; style-src 'self'; object-src 'none'; base-uri 'none'; "
    "frame-ancestors 'none'; form-action 'none'";

void send(const ApiResponse& api_response, Response& response) {
    response.status = api_response.status;
    for (const auto& [name, value] : api_response.headers) response.set_header(name, value);
    response.set_content(api_response.body, api_response.type);
}

// The whole body; nothing if it is too long or arrives too slowly.
std::optional<std::string> read_body(const httplib::ContentReader& reader) {
    std::string body;
    const bool complete = reader([&](const char* data, std::size_t size) {
        if (body.size() + size > kMaxBody_bytes) return false;
        body.append(data, size);
        return true;
    });
    return complete ? std::optional(std::move(body)) : std::nullopt;
}

// A JSON object; nothing if the body is anything else, or nested deeper than any request needs.
std::optional<Json> parse_json_object(const std::string& body) {
    int depth = 0;
    bool too_deep = false;
    Json json = Json::parse(
        body,
        [&](int at, Json::parse_event_t, Json&) {
            depth = std::max(depth, at);
            too_deep = too_deep || at > kMaxJsonDepth;
            return !too_deep;
        },
        false);
    if (json.is_discarded() || too_deep || !json.is_object()) return std::nullopt;
    return json;
}

std::optional<std::uint64_t> parse_sequence(const std::string& header) {
    std::uint64_t sequence = 0;
    const auto [end, error] = std::from_chars(header.data(), header.data() + header.size(), sequence);
    return error == std::errc{} && end == header.data() + header.size() ? std::optional(sequence)
                                                                        : std::nullopt;
}

const EmbeddedFile* find_page_file(const std::string& name) {
    const auto files = embedded_page();
    const auto found =
        std::find_if(files.begin(), files.end(), [&](const EmbeddedFile& file) { return file.path == name; });
    return found == files.end() ? nullptr : &*found;
}

std::string page_content_type(const std::string& name) {
    if (name.ends_with(".html")) return "text/html; charset=utf-8";
    if (name.ends_with(".css")) return "text/css; charset=utf-8";
    if (name.ends_with(".js")) return "text/javascript; charset=utf-8";
    return "image/svg+xml";
}

class Api {
public:
    Api(app::Session& session, Folder& folder, int port)
        : folder_(folder), workspace_{session, folder}, auth_(port), events_(folder), tasks_(events_) {}

    [[nodiscard]] const Auth& auth() const { return auth_; }
    void stop_events() { events_.stop(); }

    void register_routes(httplib::Server& server) {
        server.set_pre_routing_handler([this](const Request& request, Response& response) {
            return authorize(request, response) ? httplib::Server::HandlerResponse::Unhandled
                                                : httplib::Server::HandlerResponse::Handled;
        });
        server.Get("/", [](const Request&, Response& response) { send_page("index.html", response); });
        server.Get(
            R"(/page/([a-z_\-]+\.(?:html|css|js|svg)))",
            [](const Request& request, Response& response) { send_page(request.matches[1], response); });
        server.Get("/api/events", [this](const Request&, Response& response) { stream_events(response); });
        for (const Route& route : routes())
            if (route.path != "/api/events") add_route(server, route, handler_for(route.path));
        server.set_error_handler([](const Request&, Response& response) {
            if (response.body.empty()) send(error_response(response.status, "not found"), response);
        });
        server.set_exception_handler([](const Request&, Response& response, const std::exception_ptr&) {
            send(error_response(500, "internal error (please report it): the request failed"), response);
        });
    }

private:
    using Handler = std::function<ApiResponse(const ApiRequest&)>;

    static void send_page(const std::string& name, Response& response) {
        const EmbeddedFile* file = find_page_file(name);
        if (!file) return send(error_response(404, "not found"), response);
        response.set_content(std::string(file->text), page_content_type(name));
    }

    // The handler of a route; every route of routes() has one (contract).
    Handler handler_for(std::string_view path) {
        const std::map<std::string_view, Handler> handlers{
            {"/api/folder", [this](const ApiRequest&) { return folder_.list(); }},
            {"/api/schema", [](const ApiRequest&) { return command_response(app::plan_schema()); }},
            {"/api/library",
             [this](const ApiRequest&) { return command_response(app::library_list(workspace_.session)); }},
            {"/api/open", [this](const ApiRequest& api_request) { return folder_.open(api_request); }},
            {"/api/create", [this](const ApiRequest& api_request) { return folder_.create(api_request); }},
            {"/api/save", [this](const ApiRequest& api_request) { return folder_.save(api_request); }},
            {"/api/edit", apply_edits},
            {"/api/check", about_plan(check_plan)},
            {"/api/model", about_plan(plan_model)},
            {"/api/picture", about_plan(plan_picture)},
            {"/api/forecast", about_plan(plan_forecast)},
            {"/api/section", about_plan(plan_section)},
            {"/api/record", about_plan(job_log)},
            {"/api/thumbnails", as_task(plan_thumbnails)},
            {"/api/methods", as_task(compare_methods)},
            {"/api/tune", as_task(tune_fade)},
            {"/api/export", as_task(export_file)},
            {"/api/cancel", [this](const ApiRequest& api_request) { return tasks_.cancel(api_request); }}};
        const auto found = handlers.find(path);
        FW_EXPECTS(found != handlers.end());
        return found->second;
    }

    Handler about_plan(ApiResponse (*respond)(const Workspace&, const ApiRequest&)) {
        return [this, respond](const ApiRequest& api_request) { return respond(workspace_, api_request); };
    }

    Handler as_task(ApiResponse (*respond)(const Workspace&, const ApiRequest&, Task&)) {
        return [this, respond](const ApiRequest& api_request) {
            return tasks_.run(api_request,
                              [&](Task& current) { return respond(workspace_, api_request, current); });
        };
    }

    static void add_route(httplib::Server& server, const Route& route, const Handler& handler) {
        const std::string path(route.path);
        if (route.method == "GET") {
            server.Get(path, [handler](const Request&, Response& response) { send(handler({}), response); });
            return;
        }
        server.Post(path, [handler](const Request& request, Response& response,
                                    const httplib::ContentReader& reader) {
            if (!request.get_header_value("Content-Type").starts_with("application/json"))
                return send(error_response(415, "the request body must be JSON"), response);
            const std::optional<std::string> body = read_body(reader);
            if (!body) {
                response.set_header("Connection", "close");
                return send(error_response(413, "the request is too long or too slow"), response);
            }
            std::optional<Json> json = parse_json_object(*body);
            if (!json) return send(error_response(400, "the request is not a JSON object"), response);
            send(handler({*std::move(json), request.get_header_value("Fadewright-Page").substr(0, 64),
                          parse_sequence(request.get_header_value("Fadewright-Sequence")),
                          client_disconnected()}),
                 response);
        });
    }

    // True if the request may go on to its handler.
    bool authorize(const Request& request, Response& response) const {
        response.set_header("Content-Security-Policy", kContentSecurityPolicy);
        response.set_header("X-Content-Type-Options", "nosniff");
        response.set_header("Referrer-Policy", "no-referrer");
        response.set_header("Cache-Control", "no-store");
        const std::string host = request.get_header_value("Host");
        if (!auth_.host_allowed(host) || !auth_.origin_allowed(request.get_header_value("Origin"), host)) {
            send(error_response(403, "Fadewright does not answer under this address"), response);
            return false;
        }
        if (request.path == "/" && request.has_param("key")) {
            if (!auth_.key_matches(request.get_param_value("key"))) return refuse_without_key(response);
            response.set_header("Set-Cookie", auth_.set_cookie_value());
            response.set_redirect("/");
            return false;
        }
        if (auth_.cookie_matches(request.get_header_value("Cookie"))) return true;
        return refuse_without_key(response);
    }

    static bool refuse_without_key(Response& response) {
        send(error_response(401, "the address has no valid key", "open the address that Fadewright printed"),
             response);
        return false;
    }

    void stream_events(Response& response) {
        if (event_streams_.fetch_add(1) >= kMaxEventStreams) {
            --event_streams_;
            return send(error_response(503, "too many pages are open"), response);
        }
        const auto since = std::make_shared<std::uint64_t>(events_.latest());
        response.set_chunked_content_provider(
            "text/event-stream",
            [this, since, greeted = false](std::size_t, httplib::DataSink& sink) mutable {
                const std::optional<std::string> text = std::exchange(greeted, true)
                                                            ? events_.wait_for_next(*since)
                                                            : std::optional<std::string>(": connected\n\n");
                if (!text) {
                    sink.done();
                    return true;
                }
                return sink.write(text->data(), text->size());
            },
            [this](bool) { --event_streams_; });
    }

    Folder& folder_;
    Workspace workspace_;
    Auth auth_;
    Events events_;
    TaskRunner tasks_;
    std::atomic<std::size_t> event_streams_{0};
};

// Addresses of this machine that other machines can reach.
std::vector<std::string> network_addresses() {
    std::vector<std::string> found;
    ifaddrs* list = nullptr;
    if (::getifaddrs(&list) != 0) return found;
    for (const ifaddrs* current = list; current; current = current->ifa_next) {
        if (!current->ifa_addr || current->ifa_addr->sa_family != AF_INET) continue;
        std::array<char, INET_ADDRSTRLEN> text{};
        const auto* address = reinterpret_cast<const sockaddr_in*>(current->ifa_addr);
        ::inet_ntop(AF_INET, &address->sin_addr, text.data(), text.size());
        if (std::string_view(text.data()) != "127.0.0.1") found.emplace_back(text.data());
    }
    ::freeifaddrs(list);
    return found;
}

std::string address_text(const ServeRequest& request, int port, const std::string& key) {
    std::string text = fmt::format("Fadewright is running at http://127.0.0.1:{}/?key={}\n", port, key);
    if (request.lan) {
        for (const std::string& address : network_addresses())
            text += fmt::format("and on this network at http://{}:{}/?key={}\n", address, port, key);
        text +=
            "anyone with this address can read and change the plans of this folder; the connection is not "
            "encrypted: use it only on a network you trust\n";
    }
    return text + "Press Ctrl+C to stop.\n";
}

app::Outcome failed_outcome(const std::string& message) {
    app::Outcome outcome;
    outcome.exit = app::Exit::system_error;
    outcome.err = "error: " + message + "\n";
    return outcome;
}

// The absolute path of a folder that can be read.
Result<std::string> open_folder(const std::string& folder) {
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::path path = fs::absolute(folder, error).lexically_normal();
    (void)fs::directory_iterator(path, error);
    if (error) return Error{fmt::format("cannot open the folder {}: {}", folder, error.message())};
    return (path.has_filename() ? path : path.parent_path()).string();
}

}  // namespace

app::Outcome serve(const ServeRequest& request) {
    app::Session session(request.library);
    if (const Result<Success> library = session.check_library(); !library)
        return failed_outcome(library.error().message);
    const Result<std::string> folder_path = open_folder(request.folder);
    if (!folder_path) return failed_outcome(folder_path.error().message);

    HttpServer server;
    server.new_task_queue = [] { return new httplib::ThreadPool(kThreads); };
    server.set_payload_max_length(kMaxBody_bytes);
    server.set_tcp_nodelay(true);  // otherwise a small response is held back for up to 40 ms
    server.set_keep_alive_max_count(1000);
    const char* host = request.lan ? "0.0.0.0" : "127.0.0.1";
    int port = request.port;
    if (port == 0)
        port = server.bind_to_any_port(host);
    else if (!server.bind_to_port(host, port))
        port = -1;
    if (port < 0)
        return failed_outcome(
            request.port == 0 ? "no free port on this machine"
                              : fmt::format("port {} is in use; --port 0 picks a free one", request.port));
    Folder folder(folder_path.value());
    Api api(session, folder, port);
    api.register_routes(server);
    if (request.on_address) request.on_address(address_text(request, port, api.auth().key()));
    std::atomic<bool> stopped{false};
    std::thread stopper([&] {
        while (!stopped && !(request.is_cancelled && request.is_cancelled()))
            std::this_thread::sleep_for(std::chrono::milliseconds(50));
        api.stop_events();
        server.stop();
    });
    server.listen_after_bind();
    stopped = true;
    stopper.join();
    return {};
}

}  // namespace fadewright::serve
