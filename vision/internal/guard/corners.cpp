#include "corners.h"
#include "catch.hpp"
#include <opencv2/imgproc.hpp>

char *guard_corner_subpix(void *gray, float *xy, int n, int half_window) {
    return guarded([&] {
        cv::Mat points(n, 1, CV_32FC2, xy);
        cv::cornerSubPix(mat(gray), points, cv::Size(half_window, half_window), cv::Size(-1, -1),
                         cv::TermCriteria(cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 50, 0.001));
    });
}
