#pragma once
#ifdef __cplusplus
extern "C" {
#endif
char *guard_convert_color(void *src, void *dst, int code);
char *guard_convert_depth(void *src, void *dst, int type, double scale);
char *guard_shrink(void *src, void *dst, int k, int by);
char *guard_blur(void *src, void *dst, double sigma);
char *guard_orient(void *src, void *dst, int transpose, int flip, int code);
char *guard_crop(void *src, void *dst, int x, int y, int width, int height);
#ifdef __cplusplus
}
#endif
