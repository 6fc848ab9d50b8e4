/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/find.h"
#include "cli/json-text.h"

static void
print_pairs (JsonText *json, const TrammelFinderTrain *train)
{
  json_text_open (json, "pairs", '[');
  for (int i = 0; i < train->n_pairs; i++)
    {
      json_text_open (json, NULL, '[');
      json_text_integer (json, NULL, train->pairs[i].driver);
      json_text_integer (json, NULL, train->pairs[i].driven);
      json_text_close (json, ']');
    }
  json_text_close (json, ']');
}

/* One for each pair. */
static void
print_idlers_and_modules (JsonText *json, const TrammelFinderTrain *train)
{
  json_text_open (json, "idlers", '[');
  for (int i = 0; i < train->n_pairs; i++)
    if (train->pairs[i].idler > 0)
      json_text_integer (json, NULL, train->pairs[i].idler);
    else
      json_text_null (json, NULL);
  json_text_close (json, ']');
  json_text_open (json, "modules", '[');
  for (int i = 0; i < train->n_pairs; i++)
    json_text_number (json, NULL, trammel_exact_to_double (train->pairs[i].module));
  json_text_close (json, ']');
}

/* Mesh by mesh from the motor on; null without a plate, and where a mesh runs in no two holes of it. */
static void
print_places (JsonText *json, const TrammelFinderTrain *train, TrammelHoleGrid grid)
{
  TrammelMeshOffset places[TRAMMEL_FINDER_MOST_MESHES];
  const gsize n = grid.pitch > 0 ? trammel_finder_places (train, grid, places) : 0;

  if (n == 0)
    {
      json_text_null (json, "places");
      return;
    }
  json_text_open (json, "places", '[');
  for (gsize i = 0; i < n; i++)
    {
      json_text_open (json, NULL, '{');
      json_text_number (json, "dx", places[i].dx);
      json_text_number (json, "dy", places[i].dy);
      json_text_number (json, "distance", places[i].mesh.distance);
      json_text_number (json, "backlash", places[i].mesh.backlash);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
print_train (JsonText *json, const char *key, const TrammelFinderTrain *train, TrammelExact target,
             TrammelHoleGrid grid)
{
  g_autofree char *ratio = trammel_exact_to_fraction (train->ratio);
  TrammelExact error;

  json_text_open (json, key, '{');
  print_pairs (json, train);
  json_text_string (json, "ratio", ratio);
  json_text_number (json, "error", train->error);
  json_text_integer (json, "gears", train->gears);
  if (trammel_finder_error (train, target, &error))
    {
      g_autofree char *exact = trammel_exact_to_fraction (error);

      json_text_string (json, "exact_error", exact);
    }
  else
    json_text_null (json, "exact_error");
  json_text_number (json, "ppm", train->error * 1e6);
  json_text_integer (json, "direction", train->direction);
  print_idlers_and_modules (json, train);
  json_text_number (json, "span", train->span);
  json_text_number (json, "play", train->play);
  print_places (json, train, grid);
  json_text_close (json, '}');
}

void
cli_find_print_json (const TrammelFinderQuery *query, const TrammelFinderResult *result, TrammelHoleGrid grid)
{
  g_autofree char *target = trammel_exact_to_fraction (query->target);
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_open (&json, "results", '[');
  for (gsize i = 0; i < result->n; i++)
    print_train (&json, NULL, &result->trains[i], query->target, grid);
  json_text_close (&json, ']');
  json_text_integer (&json, "searched", (gint64)result->searched);
  json_text_open (&json, "target", '{');
  json_text_string (&json, "exact", target);
  json_text_integer (&json, "pi", query->target.pi);
  json_text_number (&json, "value", trammel_exact_to_double (query->target));
  json_text_close (&json, '}');
  if (result->has_nearest)
    print_train (&json, "nearest", &result->nearest, query->target, grid);
  else
    json_text_null (&json, "nearest");
  json_text_close (&json, '}');
  json_text_print (&json);
}
