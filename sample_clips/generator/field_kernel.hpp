// Each build of the kernel includes this file once, with its own namespace, after <cmath> and "field.hpp".
#ifndef QUARTERTURN_FIELD_NAMESPACE
#error "define QUARTERTURN_FIELD_NAMESPACE before including"
#endif

namespace quarterturn::sample::QUARTERTURN_FIELD_NAMESPACE {

using Lanes = float __attribute__((vector_size(32)));
using Mask = std::int32_t __attribute__((vector_size(32)));
#define FIELD_INLINE [[gnu::always_inline]] inline

FIELD_INLINE Lanes all(float v) {
    return Lanes{v, v, v, v, v, v, v, v};
}
FIELD_INLINE Lanes least(Lanes a, Lanes b) {
    return a < b ? a : b;
}
FIELD_INLINE Lanes most(Lanes a, Lanes b) {
    return a > b ? a : b;
}
FIELD_INLINE Lanes clamped(Lanes v, float low, float high) {
    return least(most(v, all(low)), all(high));
}
FIELD_INLINE Lanes magnitude(Lanes v) {
    return most(v, -v);
}
FIELD_INLINE Lanes root(Lanes v) {
#if defined(__AVX__)
    return reinterpret_cast<Lanes>(_mm256_sqrt_ps(reinterpret_cast<__m256>(v)));
#else
    Lanes out{};
    for (int i = 0; i < 8; ++i) out[i] = std::sqrt(v[i]);
    return out;
#endif
}
FIELD_INLINE bool any(Mask m) {
#if defined(__AVX__)
    return _mm256_movemask_ps(reinterpret_cast<__m256>(m)) != 0;
#else
    std::int32_t sum = 0;
    for (int i = 0; i < 8; ++i) sum |= m[i];
    return sum != 0;
#endif
}
FIELD_INLINE Lanes load(const float* from) {
    Lanes out;
    __builtin_memcpy(&out, from, sizeof out);
    return out;
}
FIELD_INLINE void store(float* to, Lanes v) {
    __builtin_memcpy(to, &v, sizeof v);
}

struct Point {
    Lanes x, y, z;
};

FIELD_INLINE Lanes part_distance(const FieldPart& part, const Point& p) {
    const Lanes dx = p.x - part.origin[0], dy = p.y - part.origin[1], dz = p.z - part.origin[2];
    const Lanes x = dx * part.axes[0] + dy * part.axes[1] + dz * part.axes[2];
    const Lanes along = dx * part.axes[3] + dy * part.axes[4] + dz * part.axes[5];
    const Lanes z = dx * part.axes[6] + dy * part.axes[7] + dz * part.axes[8];
    const Lanes on = clamped(along, 0.0F, part.length);
    const Lanes y = along - on;
    const Lanes h = on * part.per_length;
    const Lanes radius = part.c0 + h * (part.c1 + h * part.c2);
    const Lanes size = root(x * x + y * y + z * z);
    const Lanes gx = x * part.inverse_scale[0], gy = y * part.inverse_scale[1], gz = z * part.inverse_scale[2];
    const Lanes steep = root(gx * gx + gy * gy + gz * gz);
    return (size - radius) * size / most(steep, all(1e-6F));
}

FIELD_INLINE Lanes field(const TileJob& job, const std::uint16_t* list, int count, const Point& p) {
    Lanes all_parts = all(10.0F);
    for (int i = 0; i < count; ++i) {
        const FieldPart& part = job.parts[list[i]];
        const Lanes one = part_distance(part, p);
        const Lanes near = most(part.blend - magnitude(one - all_parts), all(0.0F));
        all_parts = least(one, all_parts) - near * near * (0.25F / part.blend);
    }
    return all_parts;
}

/// Which part is nearest.
FIELD_INLINE Mask owner(const TileJob& job, const Point& p) {
    Lanes best = all(10.0F);
    Mask who{};
    for (int i = 0; i < job.tight_count; ++i) {
        const Lanes one = part_distance(job.parts[job.tight[i]], p);
        const std::int32_t id = job.tight[i];
        who = one < best ? Mask{id, id, id, id, id, id, id, id} : who;
        best = least(one, best);
    }
    return who;
}

/// Soft shadow of capsules: how far the ray to the light passes beside each, against how far away that is.
FIELD_INLINE Lanes light_reaching(const Point& p, const Caster* casters, int count, const std::array<float, 3>& light) {
    Lanes lit = all(1.0F);
    for (int i = 0; i < count; ++i) {
        const Caster& c = casters[i];
        const Lanes rx = p.x - c.a[0], ry = p.y - c.a[1], rz = p.z - c.a[2];
        const float lean = light[0] * c.along[0] + light[1] * c.along[1] + light[2] * c.along[2];
        const float square = c.along[0] * c.along[0] + c.along[1] * c.along[1] + c.along[2] * c.along[2];
        const Lanes ahead = rx * light[0] + ry * light[1] + rz * light[2];
        const Lanes beside = rx * c.along[0] + ry * c.along[1] + rz * c.along[2];
        const float bottom = square - lean * lean;
        const Lanes first = (lean * beside - ahead * square) / (bottom > 1e-9F ? bottom : 1e-9F);
        const Lanes u = clamped((first * lean + beside) * c.inverse_length2, 0.0F, 1.0F);
        const Lanes s = most(u * lean - ahead, all(0.0F));
        const Lanes qx = rx + s * light[0] - u * c.along[0], qy = ry + s * light[1] - u * c.along[1],
                    qz = rz + s * light[2] - u * c.along[2];
        const Lanes free = root(qx * qx + qy * qy + qz * qz) - c.radius;
        const Lanes open = clamped(free / (0.07F * s + 0.006F) * 0.5F + 0.5F, 0.0F, 1.0F);
        const Lanes shade = open * open * (3.0F - 2.0F * open);
        const Lanes counts = clamped((s - 0.02F) * 14.0F, 0.0F, 1.0F);  // a part does not shade its own surface
        lit = least(lit, 1.0F - counts * (1.0F - shade));
    }
    return lit;
}

struct Reach {
    Lanes t, closest, at;  ///< where the search ended; nearest miss in pixels, and where
    Mask hit;
};

FIELD_INLINE Reach search(const TileJob& job, const Point& d) {
    Reach r{all(job.nearest), all(1e3F), all(job.nearest), Mask{}};
    for (int step = 0; step < 48; ++step) {
        const Point p{job.eye[0] + d.x * r.t, job.eye[1] + d.y * r.t, job.eye[2] + d.z * r.t};
        const Lanes gap = field(job, job.tight, job.tight_count, p);
        const Lanes pixels = gap / (job.pixel * r.t);
        const Mask nearer = (pixels < r.closest) & ~r.hit;
        r.closest = nearer ? pixels : r.closest;
        r.at = nearer ? r.t : r.at;
        r.hit = r.hit | (pixels < 0.2F);
        const Mask going = ~r.hit & (r.t < job.furthest);
        if (!any(going)) break;
        r.t = going ? r.t + gap * 0.95F : r.t;
    }
    return r;
}

FIELD_INLINE void finish(const TileJob& job, const Point& d, const Reach& reach, TileHits& hits, int at) {
    const Lanes t = reach.hit ? reach.t : reach.at;
    const Lanes cover = reach.hit ? all(1.0F) : clamped(1.15F - reach.closest, 0.0F, 1.0F);
    const Point p{job.eye[0] + d.x * t, job.eye[1] + d.y * t, job.eye[2] + d.z * t};
    constexpr float e = 0.0025F;
    const auto probe = [&](float sx, float sy, float sz) {
        return field(job, job.tight, job.tight_count, {p.x + sx * e, p.y + sy * e, p.z + sz * e});
    };
    const Lanes a = probe(1, -1, -1), b = probe(-1, -1, 1), c = probe(-1, 1, -1), f = probe(1, 1, 1);
    Point n{a - b - c + f, c + f - a - b, b + f - a - c};
    const Lanes size = most(root(n.x * n.x + n.y * n.y + n.z * n.z), all(1e-9F));
    n = {n.x / size, n.y / size, n.z / size};
    // how open the surroundings are: distances along the normal against what a plane would give
    Lanes closed = all(0.0F);
    for (const float away : {0.02F, 0.05F}) {
        const Lanes free = field(job, job.wide, job.wide_count, {p.x + n.x * away, p.y + n.y * away, p.z + n.z * away});
        closed = closed + clamped((away - free) * (0.5F / away), 0.0F, 0.5F);
    }
    const Point off{p.x + n.x * 0.008F, p.y + n.y * 0.008F, p.z + n.z * 0.008F};
    store(&hits.lit[static_cast<std::size_t>(at)], light_reaching(off, job.casters, job.caster_count, job.light));
    store(&hits.distance[static_cast<std::size_t>(at)], t);
    store(&hits.cover[static_cast<std::size_t>(at)], cover);
    store(&hits.nx[static_cast<std::size_t>(at)], n.x);
    store(&hits.ny[static_cast<std::size_t>(at)], n.y);
    store(&hits.nz[static_cast<std::size_t>(at)], n.z);
    store(&hits.open[static_cast<std::size_t>(at)], 1.0F - closed);
    const Mask who = owner(job, p);
    __builtin_memcpy(&hits.part[static_cast<std::size_t>(at)], &who, sizeof who);
}

inline void march_tile(const TileJob& job, TileHits& hits) {
    const Lanes count{0, 1, 2, 3, 4, 5, 6, 7};
    for (int row = 0; row < tile_size; ++row) {
        for (int column = 0; column < tile_size; column += 8) {
            const Lanes across = count + static_cast<float>(column);
            const float down = static_cast<float>(row);
            Point d{job.corner[0] + across * job.right[0] + down * job.down[0],
                    job.corner[1] + across * job.right[1] + down * job.down[1],
                    job.corner[2] + across * job.right[2] + down * job.down[2]};
            const Lanes size = root(d.x * d.x + d.y * d.y + d.z * d.z);
            d = {d.x / size, d.y / size, d.z / size};
            const Reach reach = search(job, d);
            const int at = row * tile_size + column;
            if (any(reach.closest < 1.15F))
                finish(job, d, reach, hits, at);
            else
                store(&hits.cover[static_cast<std::size_t>(at)], all(0.0F));
        }
    }
}

inline void light_at(const float* x, const float* y, const float* z, float* lit, int count, const Caster* casters,
                     int caster_count, const std::array<float, 3>& light) {
    for (int i = 0; i < count; i += 8)
        store(lit + i, light_reaching({load(x + i), load(y + i), load(z + i)}, casters, caster_count, light));
}

}  // namespace quarterturn::sample::QUARTERTURN_FIELD_NAMESPACE
