/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>

#include "cli/console.h"
#include "cli/homing.h"
#include "draw/homing-sentences.h"

/* Takes @sentences. */
static void
append (GString *text, GPtrArray *sentences)
{
  for (guint i = 0; i < sentences->len; i++)
    g_string_append_printf (text, "%s\n", (const char *)g_ptr_array_index (sentences, i));
  g_ptr_array_unref (sentences);
}

static void
append_groups (GString *text, const CliHomingAnswer *answer)
{
  const TrammelHomingReport *report = answer->report;

  for (gsize i = 0; i < report->n_groups; i++)
    {
      g_string_append_printf (text, "%s\n", trammel_sentences_homing_group (&report->groups[i]));
      append (text, trammel_sentences_homing_set (&report->groups[i], answer->unit));
      g_string_append_c (text, '\n');
    }
  if (report->n_groups > 0)
    g_string_append_printf (text, "%s\n", _ ("All together"));
}

void
cli_homing_print_words (const CliHomingAnswer *answer)
{
  const TrammelHoming *homing = &answer->report->all.homing;
  g_autoptr (GString) text = g_string_new (NULL);

  if (answer->axis != '\0')
    g_string_append_printf (text, _ ("Homes of axis %c\n"), answer->axis);
  append_groups (text, answer);
  append (text, trammel_sentences_homing_set (&answer->report->all, answer->unit));
  if (answer->has_layer)
    {
      g_autofree char *layer = trammel_sentences_homing_layer (homing, answer->layer, answer->unit);
      g_string_append_printf (text, "%s\n", layer);
    }
  append (text, trammel_sentences_homing_comparison (answer->report, answer->unit));
  if (answer->has_floor)
    append (text, trammel_sentences_homing_floor (homing, answer->speed, answer->delay, answer->unit));
  if (answer->has_offset)
    {
      g_autofree char *offset = trammel_sentences_homing_offset (&answer->offset, answer->unit);
      g_string_append_printf (text, "%s\n", offset);
    }
  cli_say (stdout, text->str);
}
