/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/motor.h"
#include "drive/output.h"
#include "drive/stage.h"
#include "drive/train.h"

#include <check.h>

/* @record with "key=value;key=value" set; takes @record over. */
static inline TrammelRecord *
with_values (TrammelRecord *record, const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, ";", -1);
  for (gsize i = 0; parts[i] != NULL && parts[i][0] != '\0'; i++)
    {
      g_auto (GStrv) sides = g_strsplit (parts[i], "=", 2);
      g_autoptr (GError) error = NULL;
      TrammelRecord *next = trammel_record_with_text (record, sides[0], sides[1], NULL, &error);
      ck_assert_msg (next != NULL, "%s: %s", parts[i], error != NULL ? error->message : "");
      trammel_record_unref (record);
      record = next;
    }
  return record;
}

/* A record from "type key=value;key=value". */
static inline TrammelRecord *
make_part (const TrammelRecordKind *(*kind_of) (const char *type), const char *text)
{
  g_auto (GStrv) words = g_strsplit (text, " ", 2);
  const TrammelRecordKind *kind = kind_of (words[0]);
  ck_assert_msg (kind != NULL, "%s", text);
  return with_values (trammel_record_new (kind), words[1] != NULL ? words[1] : "");
}

/* A train of @stages separated by "|"; "" is none. */
static inline TrammelTrain *
make_train (const char *motor_text, const char *stages, const char *output_text, gboolean reverse)
{
  g_autoptr (TrammelRecord) motor = make_part (trammel_motor_kind, motor_text);
  g_autoptr (TrammelRecord) output = make_part (trammel_output_kind, output_text);
  g_autoptr (TrammelTrain) train = trammel_train_new (motor, output, reverse);
  g_auto (GStrv) parts = g_strsplit (stages, "|", -1);
  for (gsize i = 0; parts[i] != NULL; i++)
    {
      g_autoptr (TrammelRecord) stage = make_part (trammel_stage_kind, parts[i]);
      TrammelTrain *next = trammel_train_with_stage_inserted (train, i, stage, NULL);
      trammel_train_unref (train);
      train = next;
    }
  return g_steal_pointer (&train);
}

#define STEPPER "stepper full_steps=200;microsteps=16"
