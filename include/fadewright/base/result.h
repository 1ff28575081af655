// The machine may refuse: a file is missing, a disk is full, a picture is damaged.
//
// Result<T> holds either the thing asked for or a Refusal that names the path and the reason. Used only at
// the edge of the program (files, pictures, profiles); mistakes in the user's text are Diagnostics.
#pragma once

#include "fadewright/base/contract.h"

#include <string>
#include <utility>
#include <variant>

namespace fadewright {

struct Refusal {
    std::string message;  // lower case, no full stop: "cannot read demo.toml: no such file"
};

template <class T>
class [[nodiscard]] Result {
public:
    Result(T value) : held_(std::move(value)) {}            // NOLINT(google-explicit-constructor)
    Result(Refusal refusal) : held_(std::move(refusal)) {}  // NOLINT(google-explicit-constructor)

    [[nodiscard]] bool ok() const noexcept { return std::holds_alternative<T>(held_); }
    explicit operator bool() const noexcept { return ok(); }

    [[nodiscard]] const T& value() const& {
        FW_EXPECTS(ok());
        return std::get<T>(held_);
    }
    [[nodiscard]] T&& value() && {
        FW_EXPECTS(ok());
        return std::get<T>(std::move(held_));
    }
    [[nodiscard]] const Refusal& refusal() const {
        FW_EXPECTS(!ok());
        return std::get<Refusal>(held_);
    }

private:
    std::variant<T, Refusal> held_;
};

struct Done {};  // Result<Done>: an action that has nothing to return

}  // namespace fadewright
