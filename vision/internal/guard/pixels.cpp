#include "pixels.h"
#include "catch.hpp"
#include <opencv2/imgproc.hpp>

char *guard_convert_color(void *src, void *dst, int code) {
    return guarded([&] { cv::cvtColor(mat(src), mat(dst), code); });
}

char *guard_convert_depth(void *src, void *dst, int type, double scale) {
    return guarded([&] { mat(src).convertTo(mat(dst), type, scale); });
}

char *guard_shrink(void *src, void *dst, int k, int by) {
    return guarded([&] {
        const cv::Mat &in = mat(src);
        const int cols = in.cols / k, rows = in.rows / k; // whole blocks of k pixels, each making by
        const cv::Mat part = in(cv::Rect(0, 0, cols * k, rows * k));
        cv::resize(part, mat(dst), cv::Size(cols * by, rows * by), 0, 0, cv::INTER_AREA);
    });
}

char *guard_blur(void *src, void *dst, double sigma) {
    return guarded([&] { cv::GaussianBlur(mat(src), mat(dst), cv::Size(), sigma, sigma, cv::BORDER_REPLICATE); });
}

char *guard_orient(void *src, void *dst, int transpose, int flip, int code) {
    return guarded([&] {
        cv::Mat turned = mat(src);
        if (transpose) cv::transpose(mat(src), turned = cv::Mat());
        if (flip) cv::flip(turned, mat(dst), code);
        else turned.copyTo(mat(dst));
    });
}

char *guard_crop(void *src, void *dst, int x, int y, int width, int height) {
    return guarded([&] { mat(src)(cv::Rect(x, y, width, height)).copyTo(mat(dst)); });
}
