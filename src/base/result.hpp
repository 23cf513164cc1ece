#pragma once
/// What a function gives back when it can fail for reasons outside the program. Exceptions are kept for bugs and for
/// memory running out.
#include <optional>
#include <string>
#include <utility>
#include <variant>

namespace quarterturn {

/// For branching; the sentence for the person is in Error::detail.
enum class ErrorCode {
    not_found,      ///< no such file, picture, season, note
    no_permission,  ///< the system refused
    bad_input,      ///< a file or an argument is not what it claims to be
    unsupported,    ///< understood, but this build cannot do it
    newer_version,  ///< written by a newer program; left untouched
    conflict,       ///< somebody else changed it, or it exists already
    no_space,       ///< the disk is full
    io,             ///< reading or writing failed otherwise
    cancelled,      ///< the person asked to stop
    missing_part    ///< an optional part (a model file, a sound device) is not installed
};

struct Error {
    ErrorCode code;
    std::string detail;  ///< one plain sentence for the person, saying what to do where something can be done
};

/// A value or an Error. Spelled like std::expected so that it can be replaced by it; [[nodiscard]] so that a dropped
/// error is a compiler warning.
template <class T>
class [[nodiscard]] Result {
  public:
    // NOLINTNEXTLINE(google-explicit-constructor): `return value;` and `return error;` are the point of the type
    Result(T value) : state_(std::in_place_index<0>, std::move(value)) {}
    // NOLINTNEXTLINE(google-explicit-constructor)
    Result(Error error) : state_(std::in_place_index<1>, std::move(error)) {}

    [[nodiscard]] bool has_value() const noexcept { return state_.index() == 0; }
    explicit operator bool() const noexcept { return has_value(); }

    /// Calling these on an error is a bug and throws std::bad_variant_access.
    [[nodiscard]] T& value() & { return std::get<0>(state_); }
    [[nodiscard]] const T& value() const& { return std::get<0>(state_); }
    [[nodiscard]] T&& value() && { return std::get<0>(std::move(state_)); }
    [[nodiscard]] T& operator*() & { return value(); }
    [[nodiscard]] const T& operator*() const& { return value(); }
    [[nodiscard]] T&& operator*() && { return std::move(*this).value(); }
    [[nodiscard]] T* operator->() { return &value(); }
    [[nodiscard]] const T* operator->() const { return &value(); }

    [[nodiscard]] const Error& error() const& { return std::get<1>(state_); }
    [[nodiscard]] Error&& error() && { return std::get<1>(std::move(state_)); }

  private:
    std::variant<T, Error> state_;
};

/// Success without a value, or an Error: `return ok();`
class [[nodiscard]] Status {
  public:
    Status() = default;
    // NOLINTNEXTLINE(google-explicit-constructor)
    Status(Error error) : error_(std::move(error)) {}
    [[nodiscard]] bool has_value() const noexcept { return !error_; }
    explicit operator bool() const noexcept { return has_value(); }
    [[nodiscard]] const Error& error() const { return error_.value(); }

  private:
    std::optional<Error> error_;
};

[[nodiscard]] inline Status ok() {
    return {};
}

}  // namespace quarterturn
