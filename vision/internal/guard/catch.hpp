// Shared by the families: turns exceptions into messages.
#pragma once
#include <cstdlib>
#include <cstring>
#include <exception>
#include <opencv2/core.hpp>

inline char *message(const char *text) { return strdup(text); }

// guarded runs f and returns NULL, or what it threw as a string that the caller frees.
template <class F> char *guarded(F f) {
    try {
        f();
        return nullptr;
    } catch (const cv::Exception &e) {
        return message(e.err.empty() ? e.what() : e.err.c_str());
    } catch (const std::exception &e) {
        return message(e.what());
    } catch (...) {
        return message("unknown exception");
    }
}

inline cv::Mat &mat(void *p) { return *static_cast<cv::Mat *>(p); }
