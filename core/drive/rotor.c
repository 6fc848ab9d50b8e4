/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/rotor.h"

#include "drive/needs.h"
#include "drive/output.h"
#include "drive/slender.h"
#include "drive/stage.h"

#include <math.h>

/* What the search writes to. */
typedef struct
{
  const TrammelFacts *facts;
  GArray *rotors;
  GPtrArray *needs;
} Search;

double
trammel_disc_inertia (double outer, double inner, double width, double density)
{
  return G_PI / 32 * density * (pow (outer, 4) - pow (inner, 4)) * width * 1e-15;
}

static void
add_rotor (Search *search, gsize part, const char *role, gsize shaft, double inertia, gboolean given)
{
  const double turns = trammel_exact_to_double (search->facts->shafts[shaft].turns_per_motor_turn);
  const TrammelRotor rotor = { part, role, shaft, inertia, inertia * turns * turns, given };
  g_array_append_val (search->rotors, rotor);
}

static void
need (Search *search, const char *place, const TrammelRecord *part, const char *key)
{
  if (search->needs != NULL)
    trammel_needs_add (search->needs, place, trammel_record_kind (part), key, NULL);
}

/* Of the part, steel where it does not say; only asked for where it matters. */
static double
density_of (Search *search, const char *place, const TrammelRecord *part)
{
  if (trammel_record_has (part, "density"))
    return trammel_record_value (part, "density");
  if (search->needs != NULL)
    {
      g_autofree char *taken = g_strdup_printf ("%d kg/m³", (int)TRAMMEL_STEEL_DENSITY);
      trammel_needs_add (search->needs, place, trammel_record_kind (part), "density", taken);
    }
  return TRAMMEL_STEEL_DENSITY;
}

/* Gears between driver and driven: a smaller one turns faster, and the driver's shaft feels it the more. */
static double
idlers_inertia (const TrammelRecord *stage, double face, double density)
{
  gsize n;
  const gint64 *teeth = trammel_record_integers (stage, "idlers", &n);
  const double module = trammel_record_value (stage, "module"), driver = trammel_record_value (stage, "driver");
  double sum = 0;
  for (gsize i = 0; i < n; i++)
    {
      const double turns = driver / (double)teeth[i];
      sum += trammel_disc_inertia (module * (double)teeth[i], 0, face, density) * turns * turns;
    }
  return sum;
}

/* What gives the size of a disc; @otherwise where nothing does. */
static const char *
size_wanted (const TrammelRecord *stage, const char *otherwise)
{
  static const char *const sizes[] = { "module", "pitch", "diameter" };
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    if (trammel_record_kind_field (trammel_record_kind (stage), sizes[i]) != NULL
        && !trammel_record_has (stage, sizes[i]))
      return sizes[i];
  return otherwise;
}

/* One side of a pair. */
static void
add_side (Search *search, gsize i, const char *place, const TrammelRecord *stage, gboolean driven)
{
  const char *key = driven ? "driven_inertia" : "driver_inertia", *role = driven ? "driven" : "driver";
  double outer, inner;
  if (trammel_record_has (stage, key))
    {
      add_rotor (search, 1 + i, role, driven ? i + 1 : i, trammel_record_value (stage, key), TRUE);
      return;
    }
  const gboolean sized = trammel_stage_disc (stage, driven, &outer, &inner);
  if (!sized || !trammel_record_has (stage, "face"))
    {
      need (search, place, stage, sized ? "face" : size_wanted (stage, key));
      return;
    }
  const double inertia
      = trammel_disc_inertia (outer, inner, trammel_record_value (stage, "face"), density_of (search, place, stage));
  add_rotor (search, 1 + i, role, driven ? i + 1 : i, inertia, FALSE);
}

static void
add_idlers (Search *search, gsize i, const char *place, const TrammelRecord *stage)
{
  if (trammel_stage_meshes (stage) < 2)
    return;
  if (!trammel_record_has (stage, "face") || !trammel_record_has (stage, "module"))
    {
      need (search, place, stage, trammel_record_has (stage, "face") ? "module" : "face");
      return;
    }
  const double face = trammel_record_value (stage, "face");
  add_rotor (search, 1 + i, "idler", i, idlers_inertia (stage, face, density_of (search, place, stage)), FALSE);
}

static void
add_stage (Search *search, gsize i, const TrammelRecord *stage)
{
  g_autofree char *place = trammel_needs_stage_place (i);
  if (trammel_record_kind_field (trammel_record_kind (stage), "driven_inertia") != NULL)
    {
      add_side (search, i, place, stage, FALSE);
      add_idlers (search, i, place, stage);
      add_side (search, i, place, stage, TRUE);
      return;
    }
  if (trammel_record_has (stage, "driver_inertia"))
    add_rotor (search, 1 + i, "whole", i, trammel_record_value (stage, "driver_inertia"), TRUE);
  else
    need (search, place, stage, "driver_inertia");
}

static void
add_output (Search *search, gsize part, const TrammelRecord *output)
{
  const double number = trammel_output_count (output);
  const gsize shaft = search->facts->n_shafts - 1;
  double diameter, length;
  if (trammel_record_has (output, "inertia"))
    add_rotor (search, part, "output", shaft, number * trammel_record_value (output, "inertia"), TRUE);
  else if (trammel_output_bar (output, &diameter, &length))
    add_rotor (search, part, "output", shaft,
               number * trammel_disc_inertia (diameter, 0, length, density_of (search, "output", output)), FALSE);
  else
    need (search, "output", output, trammel_output_bar_wants (output));
}

GArray *
trammel_train_rotors (const TrammelTrain *train, const TrammelFacts *facts, GPtrArray *needs)
{
  Search search = { facts, g_array_new (FALSE, FALSE, sizeof (TrammelRotor)), needs };

  g_return_val_if_fail (train != NULL && facts != NULL, search.rotors);

  const TrammelRecord *motor = trammel_train_motor (train);
  const gsize n_stages = trammel_train_n_stages (train);
  if (trammel_record_has (motor, "rotor_inertia"))
    add_rotor (&search, 0, "rotor", 0, trammel_record_value (motor, "rotor_inertia"), TRUE);
  else
    need (&search, "motor", motor, "rotor_inertia");
  for (gsize i = 0; i < n_stages; i++)
    add_stage (&search, i, trammel_train_stage (train, i));
  add_output (&search, 1 + n_stages, trammel_train_output (train));
  return search.rotors;
}
