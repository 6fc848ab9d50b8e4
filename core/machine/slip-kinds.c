/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/slips-private.h"

#include "machine/table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

typedef struct _SlipKind SlipKind;

struct _SlipKind
{
  const char *type; /* of the part */
  void (*propose) (const SlipKind *kind, const TrammelRecord *part, GArray *meant);
  double rarity;
  const char *key, *other; /* fields of the part */
  union
  {
    const gint64 *numbers; /* ends with 0 */
    const char *table;     /* of standard sizes */
    TrammelExact factor;
  };
  const char *reason;
};

/* Takes @part over; NULL (a value that the field does not hold) is no proposal. */
static void
take_meant (const SlipKind *kind, TrammelRecord *part, double further, GArray *meant)
{
  TrammelMeant proposal = { part, kind->reason, kind->rarity + further };

  if (part != NULL)
    g_array_append_val (meant, proposal);
}

static TrammelRecord *
with_text (const TrammelRecord *part, const char *key, const char *text)
{
  return trammel_record_with_text (part, key, text, NULL, NULL);
}

/* Sets one field of @part, which is taken over and may be NULL. */
static TrammelRecord *
and_integer (TrammelRecord *part, const char *key, gint64 value)
{
  g_autoptr (TrammelRecord) before = part;

  return before != NULL ? trammel_record_with_integer (before, key, value, NULL) : NULL;
}

static TrammelRecord *
and_text (TrammelRecord *part, const char *key, const char *text)
{
  g_autoptr (TrammelRecord) before = part;

  return before != NULL ? with_text (before, key, text) : NULL;
}

/* Counts */

static void
miscounted (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const gint64 count = trammel_record_integer (part, kind->key);

  for (int off = 1; off <= 4; off++)
    for (int sign = -1; sign <= 1; sign += 2)
      take_meant (kind, trammel_record_with_integer (part, kind->key, count + sign * off, NULL), 0.8 * (off - 1),
                  meant);
}

static void
swapped (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const gint64 one = trammel_record_integer (part, kind->key), two = trammel_record_integer (part, kind->other);

  take_meant (kind, and_integer (trammel_record_with_integer (part, kind->key, two, NULL), kind->other, one), 0, meant);
}

/* The gear in between was taken for one of the pair. */
static void
swapped_with_idler (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const gint64 own = trammel_record_integer (part, kind->key);
  gsize n;
  const gint64 *idlers = trammel_record_integers (part, kind->other, &n);

  for (gsize i = 0; i < n; i++)
    {
      g_autofree gint64 *changed = g_memdup2 (idlers, n * sizeof *idlers);
      changed[i] = own;
      g_autoptr (TrammelRecord) between = trammel_record_with_integers (part, kind->other, changed, n, NULL);
      if (between != NULL)
        take_meant (kind, trammel_record_with_integer (between, kind->key, idlers[i], NULL), 0, meant);
    }
}

static void
another_power_of_two (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const gint64 number = trammel_record_integer (part, kind->key);

  for (int power = 1; power <= 8; power++)
    {
      if (number << power <= 256)
        take_meant (kind, trammel_record_with_integer (part, kind->key, number << power, NULL), 0.6 * (power - 1),
                    meant);
      if (number % (1 << power) == 0)
        take_meant (kind, trammel_record_with_integer (part, kind->key, number >> power, NULL), 0.6 * (power - 1),
                    meant);
    }
}

static double
apart (double one, double other)
{
  return fabs (log (one / other));
}

static void
take_number (const SlipKind *kind, const TrammelRecord *part, gint64 usual, GArray *meant)
{
  const gint64 number = trammel_record_integer (part, kind->key);

  if (usual != number)
    take_meant (kind, trammel_record_with_integer (part, kind->key, usual, NULL), apart ((double)usual, (double)number),
                meant);
}

static void
another_of_the_usual (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  for (const gint64 *usual = kind->numbers; *usual != 0; usual++)
    take_number (kind, part, *usual, meant);
}

static void
another_of_the_table (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const TrammelTable *table = trammel_table_find (kind->table);
  gsize n;
  const TrammelTableRow *rows = trammel_table_rows (table, &n);

  for (gsize i = 0; i < n; i++)
    take_number (kind, part, (gint64)trammel_table_row_value (table, &rows[i]), meant);
}

/* Sizes */

static gboolean
is_reciprocal (TrammelQuantity quantity)
{
  const char *symbol = trammel_unit_symbol (quantity.unit);
  return g_str_equal (symbol, "tpi") || g_str_equal (symbol, "DP");
}

/* The @reach nearest of @sizes on either side of what was entered. */
static void
take_neighbors (const SlipKind *kind, const TrammelRecord *part, const TrammelStandardSize *sizes, gsize n, int reach,
                GArray *meant)
{
  const double size = trammel_record_value (part, kind->key);
  int above = 0;

  while (above < (int)n && sizes[above].size < size)
    above++;
  for (int i = MAX (0, above - reach); i < MIN ((int)n, above + reach + 1); i++)
    if (fabs (sizes[i].size - size) > 1e-6 * size)
      take_meant (kind, with_text (part, kind->key, sizes[i].text), 4 * apart (sizes[i].size, size), meant);
}

/* FALSE where nothing is entered. */
static gboolean
is_entered (const SlipKind *kind, const TrammelRecord *part, gboolean *inch)
{
  TrammelExact size;

  if (!trammel_record_exact (part, kind->key, &size, NULL))
    return FALSE;
  *inch = trammel_is_inch_size (size);
  return TRUE;
}

static void
metric_for_inch (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const TrammelStandardSizes *sizes = trammel_standard_sizes (kind->table);
  gboolean inch;

  if (!is_entered (kind, part, &inch))
    return;
  if (inch)
    take_neighbors (kind, part, sizes->metric, sizes->n_metric, 2, meant);
  else
    take_neighbors (kind, part, sizes->inch, sizes->n_inch, 2, meant);
}

static void
another_standard_size (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const TrammelStandardSizes *sizes = trammel_standard_sizes (kind->table);
  gboolean inch;

  if (!is_entered (kind, part, &inch))
    return;
  if (inch)
    take_neighbors (kind, part, sizes->inch, sizes->n_inch, 2, meant);
  else
    take_neighbors (kind, part, sizes->metric, sizes->n_metric, 2, meant);
}

/* "20 mm" for 20 tpi, "2 in" for 2 mm. */
static void
another_unit (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const char *const symbols[] = { "mm", "in", "tpi", "DP" };
  TrammelQuantity quantity;

  if (!trammel_record_quantity (part, kind->key, &quantity))
    return;
  g_autofree char *number = trammel_exact_to_text (quantity.number);
  for (gsize i = 0; i < G_N_ELEMENTS (symbols); i++)
    {
      g_autofree char *text = g_strdup_printf ("%s %s", number, symbols[i]);
      if (!g_str_equal (symbols[i], trammel_unit_symbol (quantity.unit)))
        take_meant (kind, with_text (part, kind->key, text), 0, meant);
    }
}

/* What was entered, times @factor. */
static void
take_multiple (const SlipKind *kind, const TrammelRecord *part, TrammelExact factor, GArray *meant)
{
  TrammelQuantity quantity;

  if (!trammel_record_quantity (part, kind->key, &quantity))
    return;
  gboolean worked = is_reciprocal (quantity) ? trammel_exact_divide (quantity.number, factor, &quantity.number, NULL)
                                             : trammel_exact_multiply (quantity.number, factor, &quantity.number, NULL);
  if (!worked)
    return;
  g_autofree char *text = trammel_quantity_to_text (quantity);
  take_meant (kind, with_text (part, kind->key, text), 0, meant);
}

static void
multiple (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  take_multiple (kind, part, kind->factor, meant);
}

static void
lead_for_pitch (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const gint64 starts = trammel_record_integer (part, kind->other);

  if (starts > 1)
    take_multiple (kind, part, (TrammelExact){ 1, starts, 0 }, meant);
}

/* The same number, as the other of two fields of which one is set. */
static void
one_for_the_other (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  TrammelQuantity quantity;

  if (!trammel_record_quantity (part, kind->key, &quantity) || is_reciprocal (quantity))
    return;
  g_autofree char *text = trammel_quantity_to_text (quantity);
  take_meant (kind, and_text (with_text (part, kind->key, NULL), kind->other, text), 0, meant);
}

/* Ratios */

static void
exact_multiple (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  TrammelExact number;

  if (!trammel_record_exact (part, kind->key, &number, NULL)
      || !trammel_exact_multiply (number, kind->factor, &number, NULL))
    return;
  g_autofree char *text = trammel_exact_to_text (number);
  take_meant (kind, with_text (part, kind->key, text), 0, meant);
}

static void
inverted (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  TrammelExact ratio;

  if (!trammel_record_exact (part, kind->key, &ratio, NULL)
      || !trammel_exact_divide (TRAMMEL_EXACT_ONE, ratio, &ratio, NULL))
    return;
  g_autofree char *text = trammel_exact_to_text (ratio);
  take_meant (kind, with_text (part, kind->key, text), 0, meant);
}

/* Planetary gearboxes for small motors are sold by a rounded ratio; what is inside is one to three sets of 57/11 or
 * 63/17 (common practice, from memory). */
static void
rounded (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const char *const ratios[] = { "63/17",       "57/11",       "3969/289",    "3591/187",   "3249/121",
                                 "250047/4913", "226233/3179", "204687/2057", "185193/1331" };
  const double entered = trammel_record_value (part, kind->key);

  for (gsize i = 0; i < G_N_ELEMENTS (ratios); i++)
    {
      g_autoptr (TrammelRecord) changed = with_text (part, kind->key, ratios[i]);
      double off = changed != NULL ? apart (trammel_record_value (changed, kind->key), entered) : HUGE_VAL;
      if (off > 1e-9 && off < 0.1)
        take_meant (kind, g_steal_pointer (&changed), 4 * off, meant);
    }
}

static void
another_arrangement (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  static const char *const arrangements[][3] = {
    { "ring", "sun", "carrier" }, { "ring", "carrier", "sun" }, { "sun", "ring", "carrier" },
    { "sun", "carrier", "ring" }, { "carrier", "sun", "ring" }, { "carrier", "ring", "sun" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (arrangements); i++)
    {
      TrammelRecord *changed = with_text (part, "held", arrangements[i][0]);
      changed = and_text (changed, "in", arrangements[i][1]);
      changed = and_text (changed, "out", arrangements[i][2]);
      gboolean same_held = g_strcmp0 (trammel_record_choice (part, "held"), arrangements[i][0]) == 0;
      take_meant (kind, changed, same_held ? 0 : 0.5, meant);
    }
}

static void
planet_for_ring (const SlipKind *kind, const TrammelRecord *part, GArray *meant)
{
  const gint64 planet = trammel_record_integer (part, kind->key), sun = trammel_record_integer (part, kind->other);

  take_meant (kind, trammel_record_with_integer (part, kind->key, sun + 2 * planet, NULL), 0, meant);
}

static const gint64 usual_starts[] = { 1, 2, 3, 4, 5, 6, 8, 10, 0 };
static const gint64 usual_falls[] = { 1, 2, 0 };
static const gint64 usual_pulleys[] = { 10, 12, 14, 15, 16, 18, 20, 24, 25, 28, 30, 32, 36, 40, 48, 60, 72, 80, 0 };

/* clang-format off */
#define MISCOUNTED(type_, key_) { type_, miscounted, 1.0, key_, NULL, { NULL }, NULL }
#define SWAPPED(type_, one_, two_) { type_, swapped, 0.8, one_, two_, { NULL }, N_ ("swapped") }
#define USUAL(type_, key_, rarity_, numbers_)                                                                         \
  { type_, another_of_the_usual, rarity_, key_, NULL, { .numbers = numbers_ }, NULL }
#define METRIC_FOR_INCH(type_, key_, table_)                                                                          \
  { type_, metric_for_inch, 0.8, key_, NULL, { .table = table_ }, N_ ("metric and inch sizes mixed up") }
#define ANOTHER_SIZE(type_, key_, table_)                                                                             \
  { type_, another_standard_size, 1.5, key_, NULL, { .table = table_ }, NULL }
#define ANOTHER_UNIT(type_, key_) { type_, another_unit, 1.2, key_, NULL, { NULL }, N_ ("in the other unit") }
#define ONE_FOR_THE_OTHER(type_, one_, two_) { type_, one_for_the_other, 0.8, one_, two_, { NULL }, NULL }

static const SlipKind kinds[] = {
  { "stepper", another_power_of_two, 0.4, "microsteps", NULL, { NULL }, NULL },
  { "stepper", another_of_the_table, 0.5, "full_steps", NULL, { .table = "full-steps" }, NULL },
  { "encoder", exact_multiple, 0.8, "counts", NULL, { .factor = { 4, 1, 0 } }, N_ ("lines for counts") },
  { "encoder", exact_multiple, 0.8, "counts", NULL, { .factor = { 1, 4, 0 } }, N_ ("counts for lines") },
  { "encoder", exact_multiple, 1.2, "counts", NULL, { .factor = { 2, 1, 0 } }, N_ ("one edge counted, not both") },
  { "encoder", exact_multiple, 1.2, "counts", NULL, { .factor = { 1, 2, 0 } }, N_ ("both edges counted, not one") },

  SWAPPED ("spur", "driver", "driven"),
  MISCOUNTED ("spur", "driver"),
  MISCOUNTED ("spur", "driven"),
  { "spur", swapped_with_idler, 1.5, "driver", "idlers", { NULL }, N_ ("swapped with an idler") },
  { "spur", swapped_with_idler, 1.5, "driven", "idlers", { NULL }, N_ ("swapped with an idler") },
  SWAPPED ("internal", "driver", "driven"),
  MISCOUNTED ("internal", "driver"),
  MISCOUNTED ("internal", "driven"),
  SWAPPED ("bevel", "driver", "driven"),
  MISCOUNTED ("bevel", "driver"),
  MISCOUNTED ("bevel", "driven"),
  USUAL ("worm", "starts", 0.8, usual_starts),
  MISCOUNTED ("worm", "wheel"),
  SWAPPED ("belt", "driver", "driven"),
  MISCOUNTED ("belt", "driver"),
  MISCOUNTED ("belt", "driven"),
  USUAL ("belt", "driver", 1.5, usual_pulleys),
  USUAL ("belt", "driven", 1.5, usual_pulleys),
  SWAPPED ("chain", "driver", "driven"),
  MISCOUNTED ("chain", "driver"),
  MISCOUNTED ("chain", "driven"),
  { "planetary", another_arrangement, 1.0, NULL, NULL, { NULL }, NULL },
  { "planetary", planet_for_ring, 1.0, "ring", "sun", { NULL }, N_ ("teeth of a planet entered for the ring") },
  MISCOUNTED ("planetary", "sun"),
  MISCOUNTED ("planetary", "ring"),
  { "gearbox", inverted, 0.8, "ratio", NULL, { NULL }, N_ ("turned upside down") },
  { "gearbox", rounded, 1.0, "ratio", NULL, { NULL }, N_ ("the ratio it is sold by is rounded") },

  USUAL ("screw", "starts", 0.6, usual_starts),
  { "screw", lead_for_pitch, 0.8, "pitch", "starts", { NULL }, N_ ("the lead was entered as the pitch") },
  METRIC_FOR_INCH ("screw", "pitch", "thread-pitch"),
  ANOTHER_SIZE ("screw", "pitch", "thread-pitch"),
  ANOTHER_UNIT ("screw", "pitch"),
  ONE_FOR_THE_OTHER ("rack", "module", "pitch"),
  ONE_FOR_THE_OTHER ("rack", "pitch", "module"),
  MISCOUNTED ("rack", "teeth"),
  METRIC_FOR_INCH ("rack", "module", "module"),
  ANOTHER_SIZE ("rack", "module", "module"),
  ANOTHER_UNIT ("rack", "module"),
  ANOTHER_UNIT ("rack", "pitch"),
  ONE_FOR_THE_OTHER ("worm-rack", "module", "pitch"),
  ONE_FOR_THE_OTHER ("worm-rack", "pitch", "module"),
  USUAL ("worm-rack", "starts", 0.8, usual_starts),
  METRIC_FOR_INCH ("worm-rack", "module", "module"),
  ANOTHER_SIZE ("worm-rack", "module", "module"),
  ANOTHER_UNIT ("worm-rack", "module"),
  ANOTHER_UNIT ("worm-rack", "pitch"),
  MISCOUNTED ("belt", "teeth"),
  USUAL ("belt", "teeth", 1.2, usual_pulleys),
  METRIC_FOR_INCH ("belt", "pitch", "belt-pitch"),
  ANOTHER_SIZE ("belt", "pitch", "belt-pitch"),
  ANOTHER_UNIT ("belt", "pitch"),
  USUAL ("belt", "fall", 0.8, usual_falls),
  { "roller", multiple, 1.0, "diameter", NULL, { .factor = { 2, 1, 0 } }, N_ ("the radius was entered") },
  { "roller", multiple, 1.0, "diameter", NULL, { .factor = { 1, 1, -1 } }, N_ ("the circumference was entered") },
  ANOTHER_UNIT ("roller", "diameter"),
};
/* clang-format on */

/* A belt between two shafts and the belt at the end go by the same name, but not by the same fields. */
static gboolean
is_of (const SlipKind *kind, const TrammelRecord *part)
{
  return trammel_record_is (part, kind->type)
         && (kind->key == NULL || trammel_record_kind_field (trammel_record_kind (part), kind->key) != NULL)
         && (kind->other == NULL || trammel_record_kind_field (trammel_record_kind (part), kind->other) != NULL);
}

static void
clear_meant (gpointer data)
{
  trammel_record_unref (((TrammelMeant *)data)->part);
}

GArray *
trammel_slips_of_part (const TrammelRecord *part)
{
  GArray *meant = g_array_new (FALSE, FALSE, sizeof (TrammelMeant));

  g_array_set_clear_func (meant, clear_meant);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (is_of (&kinds[i], part))
      kinds[i].propose (&kinds[i], part, meant);
  return meant;
}
