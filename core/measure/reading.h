/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/direction.h"

G_BEGIN_DECLS

typedef enum
{
  TRAMMEL_READING_OUTSIDE,  /* over two outer printed faces */
  TRAMMEL_READING_INSIDE,   /* between two inner printed faces */
  TRAMMEL_READING_CENTER,   /* like face to like face; bead-free */
  TRAMMEL_READING_HEIGHT,   /* printed, up from the bed; along Z */
  TRAMMEL_READING_TRAVEL,   /* one displacement of the machine; nominal = commanded */
  TRAMMEL_READING_POSITION, /* a place along one axis against a datum; nominal = target */
  TRAMMEL_READING_REVERSAL, /* how far apart one place is reached from both sides; nominal = that place, or not given */
  TRAMMEL_READING_HOME,     /* where the axis was when its switch fired; nominal = the place wanted, if any */
} TrammelReadingKind;
#define TRAMMEL_N_READING_KINDS 8

/* From which side the place was approached. */
typedef enum
{
  TRAMMEL_APPROACH_NONE,     /* not said */
  TRAMMEL_APPROACH_UP,       /* `+`: moving towards greater values */
  TRAMMEL_APPROACH_DOWN,     /* `-` */
  TRAMMEL_APPROACH_REVERSED, /* `reversed`: travel after a reversal; loses the lash */
} TrammelApproach;

/* The columns a person fills in, in the order of the sheet; also the keys of file and CSV. */
typedef enum
{
  TRAMMEL_COLUMN_KIND,
  TRAMMEL_COLUMN_ALONG,
  TRAMMEL_COLUMN_NOMINAL,
  TRAMMEL_COLUMN_MEASURED,
  TRAMMEL_COLUMN_U,
  TRAMMEL_COLUMN_INSTRUMENT,
  TRAMMEL_COLUMN_APPROACH,
  TRAMMEL_COLUMN_RUN,
  TRAMMEL_COLUMN_SET,
  TRAMMEL_COLUMN_NOTE,
} TrammelColumn;
#define TRAMMEL_N_COLUMNS 10

const char *trammel_column_key (TrammelColumn column);   /* "kind", … */
const char *trammel_column_label (TrammelColumn column); /* translated, for people */

const char *trammel_reading_kind_key (TrammelReadingKind kind);   /* "outside", … */
const char *trammel_reading_kind_label (TrammelReadingKind kind); /* translated */
gboolean trammel_reading_kind_parse (const char *text, TrammelReadingKind *out, GError **error);
/* TRUE for the printed kinds (outside, inside, center, height): shrink applies. */
gboolean trammel_reading_kind_is_printed (TrammelReadingKind kind);
/* FALSE for home: it tells of the switch, not of how far the machine moves, and takes no part in a fit. */
gboolean trammel_reading_kind_is_fitted (TrammelReadingKind kind);
/* FALSE for home, and for a reversal, whose nominal only says where it was read: they may do without. */
gboolean trammel_reading_kind_needs_nominal (TrammelReadingKind kind);
const char *trammel_approach_key (TrammelApproach approach);                              /* "", "+", "-", "reversed" */
gboolean trammel_approach_parse (const char *text, TrammelApproach *out, GError **error); /* also `up`, `down`, − */

/**
 * TrammelReading:
 *
 * One measured value with what it is a reading of. Lengths in mm; along a rotary axis degrees. NaN: not given
 * (`measured` NaN: the row waits to be measured; it takes no part in a fit).
 *
 * A reversal is the place reached moving down less the same place reached moving up, so that play makes it positive
 * (the reversal value of ISO 230-2, x̄↑ − x̄↓, is that with the other sign): from two lines drawn at one commanded
 * place, center to center, or with an indicator. Shrink and bead are left out of it: over a fraction of a millimeter
 * the one is nothing, and from center to center the other drops out.
 *
 * Texts are GRefStrings, NULL when not given. @faulty keeps what a person typed into cells that cannot be read, so that
 * it is not lost (its form is private: use the accessors). A reading with faulty cells takes no part in a fit.
 */
typedef struct
{
  guint8 kind;        /* TrammelReadingKind */
  guint8 approach;    /* TrammelApproach */
  gboolean has_along; /* FALSE only while a person has not filled it in */
  TrammelDirection along;
  double nominal;
  double measured;
  double u; /* standard uncertainty; NaN: the instrument's, else 0.05 */
  int run;  /* 0: not given */
  GRefString *instrument;
  GRefString *set;
  GRefString *note;
  GRefString *extra; /* members of a file that this version does not know: text of a JSON object */
  GRefString *faulty;
} TrammelReading;

/* An empty row: kind outside, no direction, NaN values. */
void trammel_reading_init (TrammelReading *reading);
void trammel_reading_clear (TrammelReading *reading);
/* @to is uninitialized memory; takes references. */
void trammel_reading_copy (const TrammelReading *from, TrammelReading *to);
gboolean trammel_reading_equal (const TrammelReading *a, const TrammelReading *b);

/* (transfer full): the text of a bad cell, or NULL when the cell is good. */
char *trammel_reading_faulty (const TrammelReading *reading, TrammelColumn column);
gboolean trammel_reading_has_faulty (const TrammelReading *reading);
/* Nothing faulty, has kind, direction, measured and, where the kind needs it, nominal. */
gboolean trammel_reading_is_complete (const TrammelReading *reading);
/* Complete, and of a kind that takes part in a fit. */
gboolean trammel_reading_is_fitted (const TrammelReading *reading);

/**
 * trammel_reading_set_text:
 * @unit_factor: mm (or degrees) per unit of a number typed without unit: 1 for mm, 25.4 for inch
 *
 * Sets the cell @column of @reading from what a person typed (decimal point or comma, units allowed). Blank clears
 * the cell. When it cannot be read the text is kept as faulty, the old value of the cell becomes not given, and FALSE
 * is returned with the reason. `height` with no direction gets Z.
 */
gboolean trammel_reading_set_text (TrammelReading *reading, TrammelColumn column, const char *text, double unit_factor,
                                   GError **error);

/* (transfer full): the cell for people to edit, C locale, numbers in units of @unit_factor without the unit;
 * the faulty text when it is faulty; "" when not given. */
char *trammel_reading_get_text (const TrammelReading *reading, TrammelColumn column, double unit_factor);

/* What makes this row unusable as such (height not along Z, position or home along a diagonal, reversed without
 * travel, nominal ≤ 0 where a length is wanted, u ≤ 0, …); TRAMMEL_ERROR_DATA. Complete rows only. */
gboolean trammel_reading_check (const TrammelReading *reading, GError **error);

/* An uncertainty that can weigh a reading: 1e-9…1e9 mm. FALSE for NaN. */
gboolean trammel_reading_u_is_usable (double u);

/**
 * TrammelReadings: an immutable, reference-counted array of readings.
 */
typedef struct _TrammelReadings TrammelReadings;

#define TRAMMEL_MAX_READINGS 10000000

/* Takes over the elements of @rows (a GArray of TrammelReading, freed with it); (transfer full) both ways. */
TrammelReadings *trammel_readings_take (GArray *rows);
TrammelReadings *trammel_readings_new_empty (void);
TrammelReadings *trammel_readings_ref (const TrammelReadings *readings);
void trammel_readings_unref (TrammelReadings *readings);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelReadings, trammel_readings_unref)
const TrammelReading *trammel_readings_rows (const TrammelReadings *readings, gsize *n);
gsize trammel_readings_length (const TrammelReadings *readings);
const TrammelReading *trammel_readings_get (const TrammelReadings *readings, gsize i);
/* New array: @n_removed rows from @start replaced by copies of @n_added rows of @added. (transfer full) */
TrammelReadings *trammel_readings_splice (const TrammelReadings *readings, gsize start, gsize n_removed,
                                          const TrammelReading *added, gsize n_added);
gboolean trammel_readings_equal (const TrammelReadings *a, const TrammelReadings *b);

/* A GArray of TrammelReading with trammel_reading_clear as its clear function. (transfer full) */
GArray *trammel_reading_array_new (gsize reserved);

G_END_DECLS
