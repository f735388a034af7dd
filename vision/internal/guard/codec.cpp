#include "codec.h"
#include "catch.hpp"
#include <opencv2/imgcodecs.hpp>

char *guard_decode(const void *data, size_t size, int flags, void *dst) {
    return guarded([&] {
        cv::Mat in(1, static_cast<int>(size), CV_8U, const_cast<void *>(data));
        cv::imdecode(in, flags, &mat(dst));
    });
}
