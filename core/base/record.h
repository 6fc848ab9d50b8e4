/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/exact.h"
#include "base/quantity.h"

G_BEGIN_DECLS

/* A record is a value with named fields of fixed kinds: a motor, a stage, an output, the parameters of a test piece.
 * A table of fields describes each kind of record, once: the file codec, the editors in the window, the checks and
 * the JSON Schema test all read that table, so a new kind of stage is one new file and one line in a table. */

/* How many numbers a list holds. */
#define TRAMMEL_RECORD_MAX_INTEGERS 16
/* How many pairs a list of pairs holds. */
#define TRAMMEL_RECORD_MAX_PAIRS 64
/* How many quantities a list of them holds: one more than numbers, as there is one more mesh than gears between. */
#define TRAMMEL_RECORD_MAX_QUANTITIES (TRAMMEL_RECORD_MAX_INTEGERS + 1)

typedef enum
{
  TRAMMEL_FIELD_INTEGER,    /* gint64 within low…high: teeth, starts, counts. JSON integer */
  TRAMMEL_FIELD_INTEGERS,   /* a list of those, maybe empty, so always set: idlers. JSON array of integers; text
                             * `12, 20` */
  TRAMMEL_FIELD_EXACT,      /* a ratio: TrammelExact > 0. JSON string or number */
  TRAMMEL_FIELD_QUANTITY,   /* TrammelQuantity of `dimension`. JSON string with unit, or number in the base unit (mm;
                             * degrees for an angle) */
  TRAMMEL_FIELD_CHOICE,     /* one of `choices`. JSON string */
  TRAMMEL_FIELD_FLAG,       /* yes or no. JSON true/false; text `yes`, `no` */
  TRAMMEL_FIELD_TEXT,       /* free text, may have many lines. JSON string */
  TRAMMEL_FIELD_QUANTITIES, /* a list of quantities of `dimension`: center distances. JSON array of strings with unit or
                             * numbers in the base unit, or one alone; text `36 mm; 60 mm` */
  TRAMMEL_FIELD_PAIRS,      /* pairs of quantities of `dimension` and `other_dimension`, the first rising from one to
                             * the next: torque at speed. JSON array of [string, string]; text `0 rpm 0.4 N·m; 600 rpm 0.2
                             * N·m` */
} TrammelFieldType;

typedef struct
{
  const char *key;     /* in the file: `driver` */
  const char *label;   /* for people, N_(): "Driver" */
  const char *meaning; /* one line, N_(): "teeth of the gear that is turned by the motor side" */
  TrammelFieldType type;
  TrammelDimension dimension;       /* QUANTITY, QUANTITIES; of the first of each of PAIRS */
  double low, high;                 /* bounds, inclusive: INTEGER(S), EXACT as numbers, others in the base unit;
                                     * low = high: none; high = G_MAXDOUBLE: low only */
  gboolean above_low;               /* low itself is excluded (a pitch must be > 0) */
  const char *const *choices;       /* CHOICE: keys as in the file, NULL-terminated */
  const char *const *choice_labels; /* the same for people, N_() */
  const char *initial;              /* text of the value a new record starts with; NULL: not set */
  gboolean required;                /* must be set */
  const char *group;                /* N_(): heading under which editors fold it away: "Geometry"; NULL: in sight */
  const char *table;                /* key of the table whose rows editors offer (machine/table.h); NULL: none */
  TrammelDimension other_dimension; /* of the second of each of PAIRS */
} TrammelField;

/* One of PAIRS, as typed. */
typedef struct
{
  TrammelQuantity first, second;
} TrammelPair;

typedef struct _TrammelRecord TrammelRecord;
typedef struct _TrammelRecordKind TrammelRecordKind;

struct _TrammelRecordKind
{
  const char *type;  /* in the file: `spur` */
  const char *label; /* for people, N_(): "Spur pair" */
  const TrammelField *fields;
  gsize n_fields; /* at most 32 */
  /* What the fields must satisfy together (module or pitch; a planetary set's three members); NULL: nothing. */
  gboolean (*check) (const TrammelRecord *record, GError **error);
};

/* A record of @kind with each field's initial value. Immutable and reference-counted; safe to share between threads. */
TrammelRecord *trammel_record_new (const TrammelRecordKind *kind);
TrammelRecord *trammel_record_ref (const TrammelRecord *record);
void trammel_record_unref (TrammelRecord *record);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelRecord, trammel_record_unref)

const TrammelRecordKind *trammel_record_kind (const TrammelRecord *record);
gboolean trammel_record_is (const TrammelRecord *record, const char *type);
/* Same kind, same field values, same extra. */
gboolean trammel_record_equal (const TrammelRecord *a, const TrammelRecord *b);

/* The field of @kind with @key, or NULL. */
const TrammelField *trammel_record_kind_field (const TrammelRecordKind *kind, const char *key);

/**
 * trammel_record_with_text:
 * @text: (nullable): what a person typed, or what a file holds as a string; NULL or blank: not set
 * @assumed: (nullable): unit of a quantity typed without one
 *
 * Returns: (transfer full) (nullable): @record with that field set. The whole-record check is not made here, so that
 * a person can pass through a state that does not work yet; see trammel_record_check().
 * Errors: TRAMMEL_ERROR_PARSE, _RANGE, _OVERFLOW: what was found and what is wanted, without the place.
 */
TrammelRecord *trammel_record_with_text (const TrammelRecord *record, const char *key, const char *text,
                                         const TrammelUnit *assumed, GError **error);
/* The typed forms; each checks the bounds of the field. (transfer full) (nullable) */
TrammelRecord *trammel_record_with_integer (const TrammelRecord *record, const char *key, gint64 value, GError **error);
TrammelRecord *trammel_record_with_integers (const TrammelRecord *record, const char *key, const gint64 *values,
                                             gsize n, GError **error);
/* No pairs, or quantities, at all: not set. Pairs must rise in their first. */
TrammelRecord *trammel_record_with_pairs (const TrammelRecord *record, const char *key, const TrammelPair *pairs,
                                          gsize n, GError **error);
TrammelRecord *trammel_record_with_quantities (const TrammelRecord *record, const char *key,
                                               const TrammelQuantity *quantities, gsize n, GError **error);
TrammelRecord *trammel_record_with_flag (const TrammelRecord *record, const char *key, gboolean value);

/* Every required field is set and the kind's own check passes. Errors name the field's key first: "module: …". */
gboolean trammel_record_check (const TrammelRecord *record, GError **error);

/* Access by key; a key that the kind does not have is a programming error (g_return_val_if_fail). */
gboolean trammel_record_has (const TrammelRecord *record, const char *key);
gint64 trammel_record_integer (const TrammelRecord *record, const char *key); /* 0 when not set */
const gint64 *trammel_record_integers (const TrammelRecord *record, const char *key, gsize *n);
/* QUANTITIES, PAIRS; NULL and 0 when not set. */
const TrammelQuantity *trammel_record_quantities (const TrammelRecord *record, const char *key, gsize *n);
const TrammelPair *trammel_record_pairs (const TrammelRecord *record, const char *key, gsize *n);
/* QUANTITY in the base unit, EXACT or INTEGER; NaN when not set. */
double trammel_record_value (const TrammelRecord *record, const char *key);
/* The same; @usual when not set. */
double trammel_record_value_or (const TrammelRecord *record, const char *key, double usual);
/* Exact, in the base unit; INTEGER, EXACT or QUANTITY. TRAMMEL_ERROR_RANGE "… is not set" when it is not. */
gboolean trammel_record_exact (const TrammelRecord *record, const char *key, TrammelExact *out, GError **error);
/* FALSE when not set. */
gboolean trammel_record_quantity (const TrammelRecord *record, const char *key, TrammelQuantity *out);
gboolean trammel_record_flag (const TrammelRecord *record, const char *key); /* FALSE when not set */
/* One of the choices; NULL when not set. */
const char *trammel_record_choice (const TrammelRecord *record, const char *key);
const char *trammel_record_string (const TrammelRecord *record, const char *key); /* TEXT; NULL when not set */
/* (transfer full) (nullable): any field as text that trammel_record_with_text() reads; NULL when not set. */
char *trammel_record_text (const TrammelRecord *record, const char *key);

/* Members of a file that this version does not know, kept for writing back: the text of a JSON object, or NULL.
 * The record only carries it. */
const char *trammel_record_extra (const TrammelRecord *record);
TrammelRecord *trammel_record_with_extra (const TrammelRecord *record, const char *extra);

G_END_DECLS
