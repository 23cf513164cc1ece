#pragma once
/// The sealed envelope of a kept index. Private to this room (and to its fuzz target, which needs valid seals).
#include <string>

namespace quarterturn::media {

/// `body` followed by its CRC-32 (ISO-HDLC, as in ISO/IEC 15948), little-endian.
[[nodiscard]] std::string sealed(std::string body);

}  // namespace quarterturn::media
