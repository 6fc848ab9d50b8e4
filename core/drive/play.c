/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/play.h"

#include "drive/needs.h"
#include "drive/output.h"
#include "drive/stage.h"

#include <math.h>

/* What to enter where the play of a part cannot be told: its lash, or what a length of lash has to be set against. */
static const char *
key_wanted (const TrammelRecord *part)
{
  static const char *const sizes[] = { "module", "pitch" };
  if (!trammel_record_has (part, "lash"))
    return "lash";
  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    if (trammel_record_kind_field (trammel_record_kind (part), sizes[i]) != NULL
        && !trammel_record_has (part, sizes[i]))
      return sizes[i];
  return "lash";
}

static double
travel_of_stage (const TrammelRecord *stage, const TrammelShaft *behind)
{
  return trammel_stage_lash_angle (stage) / (2 * G_PI) * fabs (behind->travel_per_turn);
}

static void
set_part (TrammelPlay *play, gsize i, const TrammelRecord *part, double travel)
{
  play->parts[i] = (TrammelPlayPart){ i, travel, NAN };
  if (!isnan (travel))
    return;
  g_autofree char *place = i + 1 < play->n_parts ? trammel_needs_stage_place (i) : g_strdup ("output");
  trammel_needs_add (play->needs, place, trammel_record_kind (part), key_wanted (part), NULL);
  play->partial = TRUE;
}

static void
add_up (TrammelPlay *play)
{
  double sum = 0, squares = 0;
  gboolean any = FALSE;
  for (gsize i = 0; i < play->n_parts; i++)
    {
      const double travel = play->parts[i].travel;
      if (isnan (travel))
        continue;
      any = TRUE;
      sum += travel;
      squares += travel * travel;
    }
  play->worst = any ? sum : NAN;
  play->rss = any ? sqrt (squares) : NAN;
  for (gsize i = 0; i < play->n_parts && sum > 0; i++)
    play->parts[i].share = play->parts[i].travel / sum;
}

TrammelPlay *
trammel_play_new (const TrammelTrain *train, GError **error)
{
  g_return_val_if_fail (train != NULL, NULL);

  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, error);
  if (facts == NULL)
    return NULL;

  TrammelPlay *play = g_new0 (TrammelPlay, 1);
  const gsize n_stages = trammel_train_n_stages (train);
  play->rotary = facts->rotary;
  play->n_parts = n_stages + 1;
  play->parts = g_new0 (TrammelPlayPart, play->n_parts);
  play->needs = trammel_needs_new ();
  for (gsize i = 0; i < n_stages; i++)
    {
      const TrammelRecord *stage = trammel_train_stage (train, i);
      set_part (play, i, stage, travel_of_stage (stage, &facts->shafts[i + 1]));
    }
  const TrammelRecord *output = trammel_train_output (train);
  set_part (play, n_stages, output, trammel_output_lash (output));
  add_up (play);
  return play;
}

void
trammel_play_free (TrammelPlay *play)
{
  if (play == NULL)
    return;
  g_free (play->parts);
  g_ptr_array_unref (play->needs);
  g_free (play);
}
