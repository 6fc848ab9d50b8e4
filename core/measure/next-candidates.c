/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/next.h"

#include <math.h>
#include <string.h>

#include "measure/adjustment-private.h"
#include "measure/fit-private.h"

/* Higher ones take long to print. */
#define GREATEST_HEIGHT 50

/* What candidates are made from. */
typedef struct
{
  const TrammelAdjustment *adjustment;
  const TrammelAdjustmentInput *input;
  GArray *rows;
} Maker;

/* How much like @kind along @along a reading is: 3 the same, 2 of that kind, 1 of print or motion like it, 0 not. */
static int
likeness (const TrammelReading *reading, TrammelReadingKind kind, const TrammelDirection *along)
{
  if (reading->kind != kind)
    return trammel_reading_kind_is_printed (reading->kind) == trammel_reading_kind_is_printed (kind);
  return trammel_direction_equal (&reading->along, along) ? 3 : 2;
}

/* The reading whose instrument is to be used again: the last one of the same kind and direction, else the finest of the
 * same kind, else the finest of prints, or of motion. */
static const TrammelReading *
find_like (const Maker *maker, TrammelReadingKind kind, const TrammelDirection *along)
{
  const TrammelReading *found = NULL;
  int best = 0;
  double finest = HUGE_VAL;

  for (gsize i = MIN (maker->input->n_readings, maker->adjustment->n_readings); i-- > 0 && best < 3;)
    {
      const TrammelReading *reading = &maker->input->readings[i];
      const TrammelFitted *fitted = &maker->adjustment->fitted[i];
      if (!trammel_fit_row_takes_part (fitted))
        continue;
      const int like = likeness (reading, kind, along);
      if (like == 0 || like < best || (like == best && fitted->u >= finest))
        continue;
      best = like;
      finest = fitted->u;
      found = reading;
    }
  return found;
}

static void
add_candidate (const Maker *maker, const TrammelReading *like, double nominal)
{
  TrammelReading reading;

  trammel_reading_copy (like, &reading);
  reading.nominal = nominal;
  g_array_append_val (maker->rows, reading);
}

static void
begin_candidate (const Maker *maker, TrammelReadingKind kind, const char *along, TrammelReading *reading)
{
  trammel_reading_init (reading);
  reading->kind = (guint8)kind;
  reading->has_along = trammel_direction_parse (along, &reading->along, NULL);
  const TrammelReading *like = find_like (maker, kind, &reading->along);
  if (like == NULL)
    return;
  reading->u = like->u;
  reading->instrument = like->instrument != NULL ? g_ref_string_acquire (like->instrument) : NULL;
}

static void
add_reversal (const Maker *maker, const char *along)
{
  TrammelReading like;

  begin_candidate (maker, TRAMMEL_READING_REVERSAL, along, &like);
  add_candidate (maker, &like, NAN);
  trammel_reading_clear (&like);
}

/* Round lengths, and the longest multiple of ten that there is room for. */
static void
add_lengths (const Maker *maker, TrammelReadingKind kind, const char *along, double room)
{
  static const double lengths[] = { 10, 20, 50, 100, 200, 500, 1000, 2000, 5000 };
  const double longest = floor (room / 10 + 1e-9) * 10;
  TrammelReading like;

  begin_candidate (maker, kind, along, &like);
  for (gsize i = 0; i < G_N_ELEMENTS (lengths) && lengths[i] < longest; i++)
    add_candidate (maker, &like, lengths[i]);
  if (longest > 0)
    add_candidate (maker, &like, longest);
  trammel_reading_clear (&like);
}

static double
travel_of (const TrammelAdjustmentInput *input, const double *travels, char letter)
{
  const char *place = strchr (input->axes, letter);

  if (place == NULL)
    return 0;
  return travels[place - input->axes] > 0 ? travels[place - input->axes] : 100;
}

GArray *
trammel_next_candidates (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input,
                         const double *travels)
{
  static const TrammelReadingKind sizes[] = { TRAMMEL_READING_OUTSIDE, TRAMMEL_READING_INSIDE, TRAMMEL_READING_CENTER };
  GArray *rows = trammel_reading_array_new (0);

  g_return_val_if_fail (adjustment != NULL && input != NULL && travels != NULL, rows);

  const double x = travel_of (input, travels, 'X'), y = travel_of (input, travels, 'Y');
  const Maker maker = { adjustment, input, rows };
  for (const char *letter = input->axes; *letter != '\0'; letter++)
    {
      const char along[] = { *letter, '\0' };
      add_lengths (&maker, TRAMMEL_READING_TRAVEL, along, travel_of (input, travels, *letter));
      add_reversal (&maker, along);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      add_lengths (&maker, sizes[i], "X", x);
      add_lengths (&maker, sizes[i], "Y", y);
      add_lengths (&maker, sizes[i], "X+Y", MIN (x, y) * M_SQRT2);
      add_lengths (&maker, sizes[i], "X-Y", MIN (x, y) * M_SQRT2);
    }
  add_lengths (&maker, TRAMMEL_READING_HEIGHT, "Z", MIN (travel_of (input, travels, 'Z'), GREATEST_HEIGHT));
  return rows;
}
