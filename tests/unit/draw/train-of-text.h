/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <check.h>

#include "drive/motor.h"
#include "drive/output.h"
#include "drive/stage.h"
#include "drive/train.h"

/* "spur driver=12 driven=36": `_` stands for a space within a value. */
static inline TrammelRecord *
record_of (const char *text, gboolean is_output)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  const TrammelRecordKind *kind = is_output ? trammel_output_kind (words[0]) : trammel_stage_kind (words[0]);
  ck_assert_msg (kind != NULL, "no kind %s", words[0]);
  TrammelRecord *record = trammel_record_new (kind);
  for (int i = 1; words[i]; i++)
    {
      g_auto (GStrv) pair = g_strsplit (words[i], "=", 2);
      g_autoptr (GError) error = NULL;
      TrammelRecord *next = trammel_record_with_text (record, pair[0], g_strdelimit (pair[1], "_", ' '), NULL, &error);
      ck_assert_msg (next != NULL, "%s: %s", text, error ? error->message : "");
      trammel_record_unref (record);
      record = next;
    }
  return record;
}

/* Stages and, last, the output, separated by `;`. */
static inline TrammelTrain *
train_of (const char *text, gboolean reverse)
{
  g_auto (GStrv) parts = g_strsplit (text, ";", -1);
  guint n = g_strv_length (parts) - 1;
  g_autoptr (TrammelRecord) motor = trammel_record_new (trammel_motor_kind ("stepper"));
  g_autoptr (TrammelRecord) output = record_of (parts[n], TRUE);
  TrammelTrain *train = trammel_train_new (motor, output, reverse);
  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TrammelRecord) stage = record_of (parts[i], FALSE);
      TrammelTrain *longer = trammel_train_with_stage_inserted (train, i, stage, NULL);
      trammel_train_unref (train);
      train = longer;
    }
  return train;
}
