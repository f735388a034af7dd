#pragma once
#ifdef __cplusplus
extern "C" {
#endif
char *guard_calibrate(const float *xyz, const float *xy, const int *counts, int views, int width, int height,
                      int fix_centre, int fix_k2, double *camera, double *sigma, double *poses, double *rms);
#ifdef __cplusplus
}
#endif
