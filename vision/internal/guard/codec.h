#pragma once
#include <stddef.h>
#ifdef __cplusplus
extern "C" {
#endif
char *guard_decode(const void *data, size_t size, int flags, void *dst);
#ifdef __cplusplus
}
#endif
