#pragma once
/// Private to this room.
#include "media/libav.hpp"

namespace quarterturn::media {

/// Whether an HEVC packet belongs to a higher temporal layer (nuh_temporal_id_plus1 > 1, ITU-T H.265 7.3.1.2). In such
/// films a picture that no picture of its own layer refers to may still be referred to from a higher one, so none may
/// be left out. False for other codecs.
/// @param length_bytes  size of the length before each unit (MP4, MKV); 0: start codes
[[nodiscard]] bool is_of_higher_layer(const AVPacket& packet, AVCodecID codec, int length_bytes);

/// Length of the size fields in an HEVC stream's packets, from its configuration record (ISO/IEC 14496-15, 8.3.3.1); 0
/// where packets use start codes.
[[nodiscard]] int unit_length_bytes(const AVCodecParameters& stream);

}  // namespace quarterturn::media
