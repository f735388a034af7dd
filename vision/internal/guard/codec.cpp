#include "codec.h"
#include "catch.hpp"
#include <opencv2/imgcodecs.hpp>

char *guard_decode(const void *data, size_t size, int flags, void *dst) {
    return guarded([&] {
        cv::Mat in(1, static_cast<int>(size), CV_8U, const_cast<void *>(data));
        cv::imdecode(in, flags, &mat(dst));
    });
}

char *guard_encode(const char *ext, void *src, void **data, size_t *size) {
    return guarded([&] {
        std::vector<uchar> out;
        if (!cv::imencode(ext, mat(src), out)) throw std::runtime_error("cannot encode");
        *data = malloc(out.size());
        if (!*data) throw std::bad_alloc();
        memcpy(*data, out.data(), out.size());
        *size = out.size();
    });
}

char *guard_threads(int n) {
    return guarded([&] { cv::setNumThreads(n); });
}
