/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"
#include "machine/codec.h"
#include "machine/json.h"
#include "machine/json-writer.h"
#include "machine/log.h"
#include "measure/reading.h"

G_BEGIN_DECLS

/* Where in the file a value stands: a chain from it up to the top, on the stack of the readers. */
typedef struct _TrammelPlace TrammelPlace;
struct _TrammelPlace
{
  const TrammelPlace *up; /* NULL: the whole file */
  const char *name;       /* of the member; NULL: an element */
  gsize index;            /* of the element */
};

/* Errors about the value at @place. `found` is told from @value; NULL @value: it is missing. All return FALSE. */
gboolean trammel_codec_refuse (const TrammelPlace *place, const TrammelJson *value, int code, const char *wanted,
                               GError **error);
/* @why with the place before it; takes @why over. */
gboolean trammel_codec_refuse_because (const TrammelPlace *place, GError *why, GError **error);

/* Readers of one value; each FALSE with @error set when it is not what is wanted, with @out untouched. */
gboolean trammel_codec_open_object (const TrammelPlace *place, TrammelJson value, const char *wanted,
                                    TrammelJsonObject *object, GError **error);
gboolean trammel_codec_open_array (const TrammelPlace *place, TrammelJson value, const char *wanted,
                                   TrammelJsonElements *elements, GError **error);
/* (transfer full) @out */
gboolean trammel_codec_read_text (const TrammelPlace *place, TrammelJson value, const char *wanted, char **out,
                                  GError **error);
/* A finite number within @low…@high. */
gboolean trammel_codec_read_number (const TrammelPlace *place, TrammelJson value, double low, double high,
                                    const char *wanted, double *out, GError **error);

/* A record (a motor, a stage, …) by the field tables of @kinds. NULL with @error. */
TrammelRecord *trammel_codec_read_record (const TrammelPlace *place, TrammelJson value,
                                          const TrammelRecordKind *const *kinds, gsize n_kinds, GError **error);
/* The same where only @kind can stand, so that its type may be left out. */
TrammelRecord *trammel_codec_read_record_of (const TrammelPlace *place, TrammelJson value,
                                             const TrammelRecordKind *kind, GError **error);
void trammel_codec_write_record (TrammelJsonWriter *writer, const char *name, const TrammelRecord *record,
                                 gboolean on_one_line);

/* Lengths of readings along these axes are in degrees: flags by letter − 'A'. */
typedef struct
{
  gboolean rotary[26];
} TrammelReadingUnits;

void trammel_codec_reading_units (const GPtrArray *axes, TrammelReadingUnits *units);
/* (transfer full); NULL with @error. */
TrammelReadings *trammel_codec_read_readings (const TrammelPlace *place, TrammelJson value,
                                              const TrammelReadingUnits *units, GError **error);
void trammel_codec_write_readings (TrammelJsonWriter *writer, const char *name, const TrammelReadings *readings,
                                   const TrammelReadingUnits *units);

/* (transfer full); NULL with @error. */
TrammelLogEntry *trammel_codec_read_log_entry (const TrammelPlace *place, TrammelJson value,
                                               const TrammelReadingUnits *units, GError **error);
void trammel_codec_write_log_entry (TrammelJsonWriter *writer, const TrammelLogEntry *entry,
                                    const TrammelReadingUnits *units);

/* (transfer full); NULL with @error. */
TrammelAxis *trammel_codec_read_axis (const TrammelPlace *place, TrammelJson value, GError **error);
void trammel_codec_write_axis (TrammelJsonWriter *writer, const TrammelAxis *axis);

G_END_DECLS
