/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings from one line of words each, for the tests of this folder. */
#pragma once

#include <check.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "measure/adjustment.h"

static inline const char *
word_or_nothing (char **words, guint i)
{
  return i < g_strv_length (words) && strcmp (words[i], ".") != 0 ? words[i] : "";
}

/* "KIND ALONG NOMINAL MEASURED [U [APPROACH [SET [INSTRUMENT]]]]", "." for nothing. */
static inline void
add_row (GArray *rows, const char *line)
{
  static const TrammelColumn columns[]
      = { TRAMMEL_COLUMN_KIND, TRAMMEL_COLUMN_ALONG,    TRAMMEL_COLUMN_NOMINAL, TRAMMEL_COLUMN_MEASURED,
          TRAMMEL_COLUMN_U,    TRAMMEL_COLUMN_APPROACH, TRAMMEL_COLUMN_SET,     TRAMMEL_COLUMN_INSTRUMENT };
  g_auto (GStrv) words = g_strsplit (line, " ", -1);
  TrammelReading reading;

  trammel_reading_init (&reading);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      g_autoptr (GError) error = NULL;
      ck_assert_msg (trammel_reading_set_text (&reading, columns[i], word_or_nothing (words, i), 1, &error), "%s: %s",
                     line, error ? error->message : "");
    }
  g_array_append_val (rows, reading);
}

/* Lines separated by newlines. (transfer full) */
static inline GArray *
rows_from_text (const char *text)
{
  GArray *rows = trammel_reading_array_new (0);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  for (char **line = lines; *line != NULL; line++)
    if (**line != '\0')
      add_row (rows, *line);
  return rows;
}

static inline TrammelAdjustmentInput
input_for (const GArray *rows)
{
  TrammelAdjustmentInput input = { 0 };

  input.axes = "XYZEA";
  input.readings = (const TrammelReading *)(gpointer)rows->data;
  input.n_readings = rows->len;
  return input;
}

static inline TrammelAdjustment *
adjust (const TrammelAdjustmentInput *input)
{
  g_autoptr (GError) error = NULL;
  TrammelAdjustment *adjustment = trammel_adjustment_new (input, NULL, &error);

  ck_assert_msg (adjustment != NULL, "%s", error ? error->message : "");
  return adjustment;
}

static inline const TrammelParameter *
parameter (const TrammelAdjustment *adjustment, const char *name)
{
  const TrammelParameter *found = trammel_adjustment_parameter (adjustment, name);

  ck_assert_msg (found != NULL, "no %s", name);
  return found;
}

static inline void
state (TrammelAdjustmentInput *input, TrammelStated *storage, const char *name, double value, double u)
{
  storage[input->n_stated++] = (TrammelStated){ g_ref_string_new_intern (name), value, u };
  input->stated = storage;
}

static inline gboolean
warns_of (const TrammelAdjustment *adjustment, const char *words)
{
  for (const char *const *warning = trammel_adjustment_warnings (adjustment); *warning != NULL; warning++)
    if (strstr (*warning, words) != NULL)
      return TRUE;
  return FALSE;
}

static inline int
run_suite (Suite *suite)
{
  SRunner *runner = srunner_create (suite);

  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
