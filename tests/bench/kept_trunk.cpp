// Pictures of the trunk as bytes: this machine's own layout, only read back by the same build.
#include <cstring>

#include "kept_film.hpp"

namespace quarterturn::bench {
namespace {

class Writer {
  public:
    template <class Value>
    void put(const Value& value) {
        static_assert(std::is_trivially_copyable_v<Value>);
        bytes_.append(reinterpret_cast<const char*>(&value), sizeof value);
    }
    void put_row(const std::uint8_t* row, int count) {
        bytes_.append(reinterpret_cast<const char*>(row), static_cast<std::size_t>(count));
    }
    [[nodiscard]] std::string take() { return std::move(bytes_); }

  private:
    std::string bytes_;
};

class Reader {
  public:
    explicit Reader(std::string_view bytes) : left_(bytes) {}
    template <class Value>
    [[nodiscard]] Value get() {
        Value value{};
        if (left_.size() < sizeof value) {
            good_ = false;
            return value;
        }
        std::memcpy(&value, left_.data(), sizeof value);
        left_.remove_prefix(sizeof value);
        return value;
    }
    void get_row(std::uint8_t* row, int count) {
        const auto size = static_cast<std::size_t>(count);
        if (left_.size() < size) {
            good_ = false;
            return;
        }
        std::memcpy(row, left_.data(), size);
        left_.remove_prefix(size);
    }
    [[nodiscard]] bool good() const { return good_; }

  private:
    std::string_view left_;
    bool good_ = true;
};

void put(Writer& out, const body::TorsoPicture& picture) {
    out.put(picture.pts);
    for (const body::Point& p :
         {picture.left_shoulder, picture.right_shoulder, picture.left_hip, picture.right_hip, picture.origin})
        out.put(p);
    out.put(picture.step);
    const cv::Mat grey = picture.grey.unpacked();
    out.put(grey.rows);
    out.put(grey.cols);
    for (int y = 0; y < grey.rows; ++y) out.put_row(grey.ptr<std::uint8_t>(y), grey.cols);
    out.put(picture.edges.first_y);
    out.put(picture.edges.spacing);
    out.put(picture.edges.rows.size());
    for (const auto& row : picture.edges.rows) {
        for (const auto& edge : {row.left, row.right}) {
            out.put(edge.has_value());
            out.put(edge.value_or(0));
        }
    }
}

std::optional<float> get_edge(Reader& in) {
    const bool there = in.get<bool>();
    const auto value = in.get<float>();
    return there ? std::optional(value) : std::nullopt;
}

body::TorsoPicture get(Reader& in) {
    body::TorsoPicture picture;
    picture.pts = in.get<std::int64_t>();
    for (body::Point* p :
         {&picture.left_shoulder, &picture.right_shoulder, &picture.left_hip, &picture.right_hip, &picture.origin})
        *p = in.get<body::Point>();
    picture.step = in.get<double>();
    const int rows = in.get<int>(), columns = in.get<int>();
    if (!in.good()) return picture;
    cv::Mat grey(rows, columns, CV_8UC1);
    for (int y = 0; y < rows; ++y) in.get_row(grey.ptr<std::uint8_t>(y), columns);
    picture.grey = body::PackedGrey{grey};
    picture.edges.first_y = in.get<double>();
    picture.edges.spacing = in.get<double>();
    picture.edges.rows.resize(in.get<std::size_t>());
    for (auto& row : picture.edges.rows) {
        row.left = get_edge(in);
        row.right = get_edge(in);
    }
    return picture;
}

}  // namespace

std::string save_shake(const std::vector<body::Shake>& shake) {
    Writer out;
    out.put(shake.size());
    for (const body::Shake& one : shake) out.put(one);
    return out.take();
}

Result<std::vector<body::Shake>> load_shake(std::string_view bytes) {
    Reader in(bytes);
    std::vector<body::Shake> shake;
    const auto count = in.get<std::size_t>();
    for (std::size_t i = 0; i < count && in.good(); ++i) shake.push_back(in.get<body::Shake>());
    if (!in.good()) return Error{ErrorCode::bad_input, "the kept shake is damaged"};
    return shake;
}

std::string save_trunk(const std::vector<body::TorsoPicture>& pictures) {
    Writer out;
    out.put(pictures.size());
    for (const body::TorsoPicture& picture : pictures) put(out, picture);
    return out.take();
}

Result<std::vector<body::TorsoPicture>> load_trunk(std::string_view bytes) {
    Reader in(bytes);
    std::vector<body::TorsoPicture> pictures;
    const auto count = in.get<std::size_t>();
    for (std::size_t i = 0; i < count && in.good(); ++i) pictures.push_back(get(in));
    if (!in.good()) return Error{ErrorCode::bad_input, "the kept pictures of the trunk are damaged"};
    return pictures;
}

}  // namespace quarterturn::bench
