#include "calibrate.h"
#include "catch.hpp"
#include <cmath>
#include <opencv2/calib3d.hpp>
#include <vector>

// correction of OpenCV's standard deviations: before 4.8 (pull request 22992) it counted points where it must count their
// coordinates. `seen` points give 2 `seen` coordinates, `found` is the number of unknowns.
static double correction(int seen, int found) {
    if (CV_VERSION_MAJOR > 4 || (CV_VERSION_MAJOR == 4 && CV_VERSION_MINOR >= 8)) return 1;
    return std::sqrt(double(seen - found) / (2 * seen - found));
}

char *guard_calibrate(const float *xyz, const float *xy, const int *counts, int views, int width, int height,
                      int fix_centre, int fix_k2, double *camera, double *sigma, double *poses, double *rms) {
    return guarded([&] {
        std::vector<std::vector<cv::Point3f>> object(views);
        std::vector<std::vector<cv::Point2f>> image(views);
        int seen = 0;
        for (int v = 0; v < views; v++) {
            seen += counts[v];
            for (int i = 0; i < counts[v]; i++, xyz += 3, xy += 2) {
                object[v].emplace_back(xyz[0], xyz[1], xyz[2]);
                image[v].emplace_back(xy[0], xy[1]);
            }
        }
        int flags = cv::CALIB_FIX_ASPECT_RATIO | cv::CALIB_ZERO_TANGENT_DIST | cv::CALIB_FIX_K3;
        if (fix_centre) flags |= cv::CALIB_FIX_PRINCIPAL_POINT;
        if (fix_k2) flags |= cv::CALIB_FIX_K2;
        cv::Mat k = cv::Mat::eye(3, 3, CV_64F), d = cv::Mat::zeros(5, 1, CV_64F), intrinsic, extrinsic, each;
        std::vector<cv::Mat> turns, shifts;
        *rms = cv::calibrateCamera(object, image, cv::Size(width, height), k, d, turns, shifts, intrinsic, extrinsic, each, flags,
                                   cv::TermCriteria(cv::TermCriteria::COUNT + cv::TermCriteria::EPS, 200, 1e-12));
        const double found[] = {k.at<double>(1, 1), k.at<double>(0, 2), k.at<double>(1, 2), d.at<double>(0), d.at<double>(1)};
        const double right = correction(seen, 6 * views + 2 + (fix_centre ? 0 : 2) + (fix_k2 ? 0 : 1));
        // OpenCV's order: fx, fy, cx, cy, k1, k2, ...; with a fixed ratio fx follows fy and has no deviation of its own.
        for (int i = 0; i < 5; i++) {
            camera[i] = found[i];
            sigma[i] = right * intrinsic.at<double>(i + 1);
        }
        for (int v = 0; v < views; v++) {
            for (int i = 0; i < 3; i++) {
                poses[6 * v + i] = turns[v].at<double>(i);
                poses[6 * v + 3 + i] = shifts[v].at<double>(i);
            }
        }
    });
}
