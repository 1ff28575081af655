// Results of operations that may fail: a file is missing, a disk is full, a picture is damaged.
//
// Result<T> holds either the value or an Error with the path and the reason. Used for files, pictures and
// profiles; errors in the user's text are Diagnostics. A layer with more to say about a failure has its own
// type for it: Result<T, Failure>.
#pragma once

#include "fadewright/base/contract.h"

#include <string>
#include <utility>
#include <variant>

namespace fadewright {

struct Error {
    std::string message;  // lower case, no full stop: "cannot read demo.toml: no such file"
};

template <class T, class E = Error>
class [[nodiscard]] Result {
public:
    Result(T value) : content_(std::move(value)) {}  // NOLINT(google-explicit-constructor)
    Result(E error) : content_(std::move(error)) {}  // NOLINT(google-explicit-constructor)

    [[nodiscard]] bool ok() const noexcept { return std::holds_alternative<T>(content_); }
    explicit operator bool() const noexcept { return ok(); }

    [[nodiscard]] const T& value() const& {
        FW_EXPECTS(ok());
        return std::get<T>(content_);
    }
    [[nodiscard]] T&& value() && {
        FW_EXPECTS(ok());
        return std::get<T>(std::move(content_));
    }
    [[nodiscard]] const E& error() const {
        FW_EXPECTS(!ok());
        return std::get<E>(content_);
    }

private:
    std::variant<T, E> content_;
};

struct Success {};  // Result<Success>: an action without a value

}  // namespace fadewright
