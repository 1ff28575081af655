// A command run as a front end runs it: with a session of its own, its artefacts written to their names.
#pragma once

#include "fadewright/app/commands.h"

#include <type_traits>

namespace fadewright::test {

template <class Request>
app::Outcome run(app::Outcome (*command)(app::Session&, const Request&),
                 const std::type_identity_t<Request>& request) {
    std::string library_folder;
    if constexpr (requires { request.library; }) library_folder = request.library;
    app::Session session(library_folder);
    return app::write_artefacts(command(session, request));
}

}  // namespace fadewright::test
