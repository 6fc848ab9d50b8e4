/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/slips-private.h"

#include <glib/gi18n-lib.h>

#include "drive/words.h"

/* −ln of how often a stage is entered that is not there, or once where there are two alike: rarely. */
#define RARITY_OF_TOO_MANY 2.0
#define RARITY_OF_TOO_FEW 2.5

void
trammel_slip_free (TrammelSlip *slip)
{
  trammel_train_unref (slip->train);
  g_free (slip->change);
  g_free (slip);
}

/* In words */

/* A label inside a sentence; what a translator wrote stays as it is. */
static char *
label_inside (const TrammelField *field)
{
  const char *label = _ (field->label);
  char *inside = g_strdup (label);

  if (label == field->label)
    inside[0] = g_ascii_tolower (inside[0]);
  return inside;
}

static char *
value_in_words (const TrammelRecord *part, const TrammelField *field)
{
  const char *chosen = field->type == TRAMMEL_FIELD_CHOICE ? trammel_record_choice (part, field->key) : NULL;

  for (gsize i = 0; chosen != NULL && field->choices[i] != NULL; i++)
    if (g_str_equal (chosen, field->choices[i]))
      return g_strdup (_ (field->choice_labels[i]));
  return trammel_words_of_field (part, field->key);
}

/* "driver 12" */
static char *
entry_in_words (const TrammelRecord *part, const TrammelField *field)
{
  g_autofree char *label = label_inside (field), *value = value_in_words (part, field);
  return g_strdup_printf ("%s %s", label, value);
}

static gboolean
differs (const TrammelRecord *a, const TrammelRecord *b, const TrammelField *field)
{
  g_autofree char *one = trammel_record_text (a, field->key), *other = trammel_record_text (b, field->key);
  return g_strcmp0 (one, other) != 0;
}

/* The only entry that @part has and @other has not. */
static const TrammelField *
entry_of_one (const TrammelRecord *part, const TrammelRecord *other)
{
  const TrammelRecordKind *kind = trammel_record_kind (part);

  for (gsize i = 0; i < kind->n_fields; i++)
    if (trammel_record_has (part, kind->fields[i].key) && !trammel_record_has (other, kind->fields[i].key))
      return &kind->fields[i];
  return NULL;
}

/* "driver 12 → 36, driven 36 → 12"; "module 1 mm → pitch 1 mm" */
static char *
entries_in_words (const TrammelRecord *before, const TrammelRecord *after)
{
  const TrammelRecordKind *kind = trammel_record_kind (before);
  const TrammelField *gone = entry_of_one (before, after), *come = entry_of_one (after, before);
  GString *words = g_string_new (NULL);

  if (gone != NULL && come != NULL)
    {
      g_autofree char *old = entry_in_words (before, gone), *new = entry_in_words (after, come);
      g_string_append_printf (words, "%s → %s", old, new);
      return g_string_free (words, FALSE);
    }
  for (gsize i = 0; i < kind->n_fields; i++)
    {
      if (!differs (before, after, &kind->fields[i]))
        continue;
      g_autofree char *old = entry_in_words (before, &kind->fields[i]);
      g_autofree char *new = value_in_words (after, &kind->fields[i]);
      g_string_append_printf (words, "%s%s → %s", words->len > 0 ? ", " : "", old, new);
    }
  return g_string_free (words, FALSE);
}

static char *
place_in_words (const TrammelTrain *train, int part)
{
  if (part == 0)
    return g_strdup (_ ("motor"));
  if ((gsize)part > trammel_train_n_stages (train))
    return g_strdup (_ ("output"));
  return g_strdup_printf (_ ("stage %d"), part);
}

static char *
change_in_words (const TrammelTrain *train, int part, const TrammelRecord *before, const TrammelMeant *meant)
{
  g_autofree char *place = place_in_words (train, part), *entries = entries_in_words (before, meant->part);

  if (meant->reason == NULL)
    return g_strdup_printf ("%s: %s", place, entries);
  return g_strdup_printf ("%s: %s (%s)", place, entries, _ (meant->reason));
}

/* Trains */

static const TrammelRecord *
get_part (const TrammelTrain *train, int part)
{
  if (part == 0)
    return trammel_train_motor (train);
  if ((gsize)part > trammel_train_n_stages (train))
    return trammel_train_output (train);
  return trammel_train_stage (train, (gsize)part - 1);
}

static TrammelTrain *
with_part (const TrammelTrain *train, int part, const TrammelRecord *record)
{
  if (part == 0)
    return trammel_train_with_motor (train, record);
  if ((gsize)part > trammel_train_n_stages (train))
    return trammel_train_with_output (train, record);
  return trammel_train_with_stage (train, (gsize)part - 1, record);
}

/* The slip that led to the same train, or NULL. */
static TrammelSlip *
same_train (GPtrArray *slips, const TrammelTrain *train)
{
  for (guint i = 0; i < slips->len; i++)
    if (trammel_train_equal (((TrammelSlip *)slips->pdata[i])->train, train))
      return slips->pdata[i];
  return NULL;
}

/* Takes @train and @change over. Of two ways to the same train the less rare one is kept. */
static void
take_slip (GPtrArray *slips, TrammelTrain *train, int part, char *change, double rarity)
{
  TrammelSlip *slip = g_new (TrammelSlip, 1);

  *slip = (TrammelSlip){ train, part, change, rarity };
  TrammelSlip *other = same_train (slips, train);
  if (other == NULL)
    g_ptr_array_add (slips, slip);
  else
    {
      TrammelSlip *rarer = other->rarity <= rarity ? slip : other;
      if (rarer == other)
        {
          TrammelSlip kept = *other;
          *other = *slip;
          *slip = kept;
        }
      trammel_slip_free (slip);
    }
}

static void
find_in_part (const TrammelTrain *train, int part, GPtrArray *slips)
{
  const TrammelRecord *before = get_part (train, part);
  g_autoptr (GArray) found = trammel_slips_of_part (before);

  for (guint i = 0; i < found->len; i++)
    {
      const TrammelMeant *meant = &g_array_index (found, TrammelMeant, i);
      if (trammel_record_equal (before, meant->part))
        continue;
      g_autoptr (TrammelTrain) changed = with_part (train, part, meant->part);
      if (trammel_train_check (changed, NULL))
        take_slip (slips, g_steal_pointer (&changed), part, change_in_words (train, part, before, meant),
                   meant->rarity);
    }
}

static void
find_whole_stage (const TrammelTrain *train, gsize i, GPtrArray *slips)
{
  const TrammelRecord *stage = trammel_train_stage (train, i);
  g_autofree char *words = trammel_stage_to_words (stage);
  g_autoptr (TrammelTrain) without = trammel_train_without_stage (train, i);
  g_autoptr (TrammelTrain) twice = trammel_train_with_stage_inserted (train, i, stage, NULL);

  take_slip (slips, g_steal_pointer (&without), (int)i + 1,
             g_strdup_printf (_ ("stage %d: %s taken out"), (int)i + 1, words), RARITY_OF_TOO_MANY);
  if (twice != NULL && trammel_train_check (twice, NULL))
    take_slip (slips, g_steal_pointer (&twice), (int)i + 1,
               g_strdup_printf (_ ("stage %d: %s twice in a row"), (int)i + 1, words), RARITY_OF_TOO_FEW);
}

GPtrArray *
trammel_slips_of_train (const TrammelTrain *train)
{
  GPtrArray *slips = g_ptr_array_new_with_free_func ((GDestroyNotify)trammel_slip_free);
  const gsize n_stages = trammel_train_n_stages (train);

  for (int part = 0; part <= (int)n_stages + 1; part++)
    find_in_part (train, part, slips);
  for (gsize i = 0; i < n_stages; i++)
    find_whole_stage (train, i, slips);
  return slips;
}
