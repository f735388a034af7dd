#pragma once
#include <stddef.h>
#ifdef __cplusplus
extern "C" {
#endif
char *guard_decode(const void *data, size_t size, int flags, void *dst);
char *guard_threads(int n);
#ifdef __cplusplus
}
#endif
