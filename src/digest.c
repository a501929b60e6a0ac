#include "digest.h"

#include <string.h>

#define FNV_PRIME UINT64_C(0x100000001b3)

uint64_t digest_bytes(uint64_t before, const void *bytes, size_t count) {
    const unsigned char *byte = bytes;
    uint64_t digest = before;
    for (size_t i = 0; i < count; i++) {
        digest = (digest ^ byte[i]) * FNV_PRIME;
    }
    return digest;
}

uint64_t digest_text(uint64_t before, const char *text) {
    return digest_bytes(before, text, strlen(text) + 1);
}

uint64_t digest_number(uint64_t before, uint64_t number) {
    uint64_t digest = before;
    for (int shift = 0; shift < 64; shift += 8) {
        digest = (digest ^ ((number >> shift) & 0xff)) * FNV_PRIME;
    }
    return digest;
}
