/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TRAMMEL_ERROR:
 *
 * The one error domain of the library. The message is a full sentence fragment for people (translated), says what
 * was found and what is wanted, and is prefixed by callers with the place ("axes[0].stages[1].driver: …").
 */
#define TRAMMEL_ERROR (trammel_error_quark ())

typedef enum
{
  TRAMMEL_ERROR_PARSE,       /* text that cannot be read as what is wanted */
  TRAMMEL_ERROR_RANGE,       /* a value outside its bounds, or not finite */
  TRAMMEL_ERROR_OVERFLOW,    /* exact arithmetic that does not fit 64 bits */
  TRAMMEL_ERROR_FORMAT,      /* a file that is not laid out as it should be */
  TRAMMEL_ERROR_VERSION,     /* a file of a newer version */
  TRAMMEL_ERROR_STORE,       /* the disk said no */
  TRAMMEL_ERROR_IMPOSSIBLE,  /* parts that cannot work together: a planetary set with no held member, … */
  TRAMMEL_ERROR_UNSEPARABLE, /* unknowns that the readings cannot tell apart */
  TRAMMEL_ERROR_DATA,        /* readings that cannot be used */
  TRAMMEL_ERROR_TOO_LARGE,   /* what is asked does not fit: the travel, a limit of size */
} TrammelError;

GQuark trammel_error_quark (void);

/**
 * trammel_error_excerpt:
 * @text: (nullable): bytes that could not be read, not trusted; @length of them, −1 for NUL-terminated
 *
 * Returns: (transfer full): at most 40 characters of @text that can be shown in a message: valid UTF-8 on one line,
 * without control characters, ending in "…" where it was cut.
 */
char *trammel_error_excerpt (const char *text, gssize length);

G_END_DECLS
