#pragma once
#ifdef __cplusplus
extern "C" {
#endif
char *guard_corner_subpix(void *gray, float *xy, int n, int half_window);
#ifdef __cplusplus
}
#endif
