/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/turning-parts.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "drive/stage.h"

/* Two that differ less turn in step. */
#define SAME_PERIOD 1e-9

static void
clear_part (gpointer part)
{
  g_free (((TrammelTurning *)part)->name);
}

/* Takes @name. A part that turns in step with an earlier one takes its place. */
static void
add_part (GArray *parts, char *name, double travel_per_turn)
{
  TrammelTurning part = { name, fabs (travel_per_turn) };

  for (guint i = 0; i < parts->len; i++)
    {
      TrammelTurning *earlier = &g_array_index (parts, TrammelTurning, i);
      if (fabs (earlier->travel_per_turn - part.travel_per_turn) > SAME_PERIOD * part.travel_per_turn)
        continue;
      g_free (earlier->name);
      earlier->name = name;
      return;
    }
  g_array_append_val (parts, part);
}

static char *
name_of_output (const TrammelRecord *output)
{
  static const struct
  {
    const char *type, *name;
  } names[] = {
    { "screw", N_ ("screw") }, { "rack", N_ ("pinion") },   { "worm-rack", N_ ("worm") },
    { "belt", N_ ("pulley") }, { "roller", N_ ("roller") }, { "table", N_ ("table") },
  };

  if (trammel_record_is (output, "screw") && g_strcmp0 (trammel_record_choice (output, "turning"), "nut") == 0)
    return g_strdup (_ ("nut"));
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (trammel_record_is (output, names[i].type))
      return g_strdup (_ (names[i].name));
  return g_strdup (_ ("output shaft"));
}

static void
add_idlers (GArray *parts, const TrammelRecord *stage, guint number, double travel_per_turn_in)
{
  gsize n;
  const gint64 *idlers = trammel_record_integers (stage, "idlers", &n);
  const double driver = trammel_record_value (stage, "driver");

  for (gsize i = 0; i < n; i++)
    add_part (parts, g_strdup_printf (_ ("idler of %d teeth in stage %u"), (int)idlers[i], number),
              travel_per_turn_in * (double)idlers[i] / driver);
}

/* Turns of one member of a planetary set per turn of its input. */
static double
turns_of (const TrammelRecord *stage, const char *member, double turns_out)
{
  if (g_strcmp0 (trammel_record_choice (stage, "held"), member) == 0)
    return 0;
  return g_strcmp0 (trammel_record_choice (stage, "in"), member) == 0 ? 1 : turns_out;
}

static void
add_planets (GArray *parts, const TrammelRecord *stage, guint number, double travel_per_turn_in, double turns_out)
{
  const double sun = trammel_record_value (stage, "sun"), ring = trammel_record_value (stage, "ring");
  const double planet = (ring - sun) / 2;
  const double against_carrier = turns_of (stage, "sun", turns_out) - turns_of (stage, "carrier", turns_out);
  const double turns = against_carrier * sun / planet;

  if (turns != 0)
    add_part (parts, g_strdup_printf (_ ("planets of stage %u"), number), travel_per_turn_in / turns);
}

GArray *
trammel_train_turning_parts (const TrammelTrain *train, GError **error)
{
  g_return_val_if_fail (train != NULL, NULL);

  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, error);
  if (facts == NULL)
    return NULL;

  GArray *parts = g_array_new (FALSE, FALSE, sizeof (TrammelTurning));
  g_array_set_clear_func (parts, clear_part);
  add_part (parts, g_strdup (_ ("motor shaft")), facts->shafts[0].travel_per_turn);
  for (gsize i = 1; i < facts->n_shafts; i++)
    {
      const TrammelRecord *stage = trammel_train_stage (train, i - 1);
      const TrammelShaft *in = &facts->shafts[i - 1], *out = &facts->shafts[i];
      if (trammel_record_is (stage, "spur"))
        add_idlers (parts, stage, (guint)i, in->travel_per_turn);
      if (trammel_record_is (stage, "planetary"))
        add_planets (parts, stage, (guint)i, in->travel_per_turn, in->travel_per_turn / out->travel_per_turn);
      add_part (parts, g_strdup_printf (_ ("shaft after stage %u"), (guint)i), out->travel_per_turn);
    }
  add_part (parts, name_of_output (trammel_train_output (train)), facts->shafts[facts->n_shafts - 1].travel_per_turn);
  return parts;
}
