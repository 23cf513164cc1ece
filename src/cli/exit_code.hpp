#pragma once
#include "base/result.hpp"

namespace quarterturn::cli {

/// What the shell sees. Stable: other programs branch on them.
enum class ExitCode {
    done = 0,
    failed = 1,          ///< reading or writing failed (a full disk, a broken drive)
    wrong_usage = 2,     ///< unknown command or option, missing argument
    not_found = 3,       ///< no such file, library, season, session, note
    bad_input = 4,       ///< the file is not a readable film or document, or a value makes no sense
    refused = 5,         ///< no permission
    conflict = 6,        ///< it exists already, or another program changed it
    newer = 7,           ///< written by a newer version of the program; nothing was touched
    unavailable = 8,     ///< a part such as the landmark model is not installed, or a codec is not supported
    problems_found = 9,  ///< `check` and `backup` finished and report problems
    interrupted = 130    ///< stopped by the person
};

[[nodiscard]] constexpr ExitCode exit_code_for(ErrorCode code) {
    switch (code) {
        case ErrorCode::not_found:
            return ExitCode::not_found;
        case ErrorCode::bad_input:
            return ExitCode::bad_input;
        case ErrorCode::no_permission:
            return ExitCode::refused;
        case ErrorCode::conflict:
            return ExitCode::conflict;
        case ErrorCode::newer_version:
            return ExitCode::newer;
        case ErrorCode::missing_part:
        case ErrorCode::unsupported:
            return ExitCode::unavailable;
        case ErrorCode::cancelled:
            return ExitCode::interrupted;
        case ErrorCode::no_space:
        case ErrorCode::io:
            return ExitCode::failed;
    }
    return ExitCode::failed;
}

}  // namespace quarterturn::cli
