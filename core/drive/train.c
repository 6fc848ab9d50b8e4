/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/train.h"

#include "base/error.h"
#include "drive/words.h"

#include <glib/gi18n-lib.h>

struct _TrammelTrain
{
  gatomicrefcount references;
  TrammelRecord *motor;
  TrammelRecord *output;
  gboolean reverse;
  GPtrArray *stages; /* of TrammelRecord */
};

static void
unref_record (gpointer record)
{
  trammel_record_unref (record);
}

TrammelTrain *
trammel_train_new (const TrammelRecord *motor, const TrammelRecord *output, gboolean reverse)
{
  g_return_val_if_fail (motor != NULL && output != NULL, NULL);

  TrammelTrain *train = g_new0 (TrammelTrain, 1);
  g_atomic_ref_count_init (&train->references);
  train->motor = trammel_record_ref (motor);
  train->output = trammel_record_ref (output);
  train->reverse = reverse != FALSE;
  train->stages = g_ptr_array_new_with_free_func (unref_record);
  return train;
}

TrammelTrain *
trammel_train_ref (const TrammelTrain *train)
{
  g_return_val_if_fail (train != NULL, NULL);

  TrammelTrain *shared = (TrammelTrain *)train;
  g_atomic_ref_count_inc (&shared->references);
  return shared;
}

void
trammel_train_unref (TrammelTrain *train)
{
  if (train == NULL || !g_atomic_ref_count_dec (&train->references))
    return;
  trammel_record_unref (train->motor);
  trammel_record_unref (train->output);
  g_ptr_array_unref (train->stages);
  g_free (train);
}

static TrammelTrain *
copy (const TrammelTrain *train)
{
  TrammelTrain *made = trammel_train_new (train->motor, train->output, train->reverse);
  for (guint i = 0; i < train->stages->len; i++)
    g_ptr_array_add (made->stages, trammel_record_ref (train->stages->pdata[i]));
  return made;
}

const TrammelRecord *
trammel_train_motor (const TrammelTrain *train)
{
  g_return_val_if_fail (train != NULL, NULL);

  return train->motor;
}

const TrammelRecord *
trammel_train_output (const TrammelTrain *train)
{
  g_return_val_if_fail (train != NULL, NULL);

  return train->output;
}

gsize
trammel_train_n_stages (const TrammelTrain *train)
{
  g_return_val_if_fail (train != NULL, 0);

  return train->stages->len;
}

const TrammelRecord *
trammel_train_stage (const TrammelTrain *train, gsize i)
{
  g_return_val_if_fail (train != NULL && i < train->stages->len, NULL);

  return train->stages->pdata[i];
}

gboolean
trammel_train_reverse (const TrammelTrain *train)
{
  g_return_val_if_fail (train != NULL, FALSE);

  return train->reverse;
}

gboolean
trammel_train_equal (const TrammelTrain *a, const TrammelTrain *b)
{
  if (a == b)
    return TRUE;
  if (a == NULL || b == NULL || a->reverse != b->reverse || a->stages->len != b->stages->len)
    return FALSE;
  if (!trammel_record_equal (a->motor, b->motor) || !trammel_record_equal (a->output, b->output))
    return FALSE;
  for (guint i = 0; i < a->stages->len; i++)
    if (!trammel_record_equal (a->stages->pdata[i], b->stages->pdata[i]))
      return FALSE;
  return TRUE;
}

TrammelTrain *
trammel_train_with_motor (const TrammelTrain *train, const TrammelRecord *motor)
{
  g_return_val_if_fail (train != NULL && motor != NULL, NULL);

  TrammelTrain *made = copy (train);
  trammel_record_unref (made->motor);
  made->motor = trammel_record_ref (motor);
  return made;
}

TrammelTrain *
trammel_train_with_output (const TrammelTrain *train, const TrammelRecord *output)
{
  g_return_val_if_fail (train != NULL && output != NULL, NULL);

  TrammelTrain *made = copy (train);
  trammel_record_unref (made->output);
  made->output = trammel_record_ref (output);
  return made;
}

TrammelTrain *
trammel_train_with_reverse (const TrammelTrain *train, gboolean reverse)
{
  g_return_val_if_fail (train != NULL, NULL);

  TrammelTrain *made = copy (train);
  made->reverse = reverse != FALSE;
  return made;
}

TrammelTrain *
trammel_train_with_stage (const TrammelTrain *train, gsize i, const TrammelRecord *stage)
{
  g_return_val_if_fail (train != NULL && stage != NULL && i < train->stages->len, NULL);

  TrammelTrain *made = copy (train);
  trammel_record_unref (made->stages->pdata[i]);
  made->stages->pdata[i] = trammel_record_ref (stage);
  return made;
}

TrammelTrain *
trammel_train_with_stage_inserted (const TrammelTrain *train, gsize i, const TrammelRecord *stage, GError **error)
{
  g_return_val_if_fail (train != NULL && stage != NULL && i <= train->stages->len, NULL);

  if (train->stages->len >= TRAMMEL_TRAIN_MAX_STAGES)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE,
                   _ ("found %d stages already; at most that many are wanted"), TRAMMEL_TRAIN_MAX_STAGES);
      return NULL;
    }
  TrammelTrain *made = copy (train);
  g_ptr_array_insert (made->stages, (int)i, trammel_record_ref (stage));
  return made;
}

TrammelTrain *
trammel_train_without_stage (const TrammelTrain *train, gsize i)
{
  g_return_val_if_fail (train != NULL && i < train->stages->len, NULL);

  TrammelTrain *made = copy (train);
  g_ptr_array_remove_index (made->stages, (guint)i);
  return made;
}

TrammelTrain *
trammel_train_with_stage_moved (const TrammelTrain *train, gsize from, gsize to)
{
  g_return_val_if_fail (train != NULL && from < train->stages->len && to < train->stages->len, NULL);

  TrammelTrain *made = copy (train);
  g_ptr_array_insert (made->stages, (int)to, g_ptr_array_steal_index (made->stages, (guint)from));
  return made;
}

char *
trammel_train_to_words (const TrammelTrain *train)
{
  g_return_val_if_fail (train != NULL, NULL);

  g_autofree char *motor = trammel_motor_to_words (train->motor);
  g_autofree char *output = trammel_output_to_words (train->output);
  GString *words = g_string_new (motor);
  for (guint i = 0; i < train->stages->len; i++)
    {
      g_autofree char *stage = trammel_stage_to_words (train->stages->pdata[i]);
      g_string_append_printf (words, " → %s", stage);
    }
  g_string_append_printf (words, " → %s", output);
  return g_string_free (words, FALSE);
}
