/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/axis-actions.h"

#include <glib/gi18n.h>

/* The letters that the trade gives to an axis of each kind, best first. */
static const char *const customary_letters[] = {
  [TRAMMEL_AXIS_LINEAR] = "XYZUVW",
  [TRAMMEL_AXIS_ROTARY] = "ABC",
  [TRAMMEL_AXIS_FEED] = "EFGH",
};

static char
free_letter (const TrammelMachine *machine, TrammelAxisKind kind)
{
  for (const char *c = customary_letters[kind]; *c; c++)
    if (trammel_machine_axis_index (machine, *c) < 0)
      return *c;
  for (char c = 'A'; c <= 'Z'; c++)
    if (trammel_machine_axis_index (machine, c) < 0)
      return c;
  return '\0';
}

typedef struct
{
  TrammelSession *session;
  TrammelNotices *notices;
} Ends;

static TrammelAxisKind
kind_of_key (const char *key)
{
  for (int kind = TRAMMEL_AXIS_LINEAR; kind <= TRAMMEL_AXIS_FEED; kind++)
    if (g_str_equal (trammel_axis_kind_key ((TrammelAxisKind)kind), key))
      return (TrammelAxisKind)kind;
  return TRAMMEL_AXIS_LINEAR;
}

static void
add_axis (GSimpleAction *action, GVariant *kind_key, gpointer data)
{
  Ends *ends = data;
  g_autoptr (GError) error = NULL;
  const TrammelMachine *machine = trammel_session_machine (ends->session);
  TrammelAxisKind kind = kind_of_key (g_variant_get_string (kind_key, NULL));
  char letter = free_letter (machine, kind);
  gsize n = trammel_machine_n_axes (machine);
  if (!letter)
    {
      trammel_notices_show (ends->notices, "axes", TRAMMEL_NOTICE_TROUBLE, _ ("All 26 letters have an axis already."),
                            NULL, 0);
      return;
    }

  g_autoptr (TrammelAxis) axis = trammel_axis_new (letter, kind);
  TrammelMachine *with = trammel_machine_with_axis_inserted (machine, n, axis, &error);
  if (error)
    trammel_notices_show (ends->notices, "axes", TRAMMEL_NOTICE_TROUBLE, error->message, NULL, 0);
  trammel_session_edit (ends->session, with, _ ("add an axis"), NULL);
  trammel_session_select_axis (ends->session, (int)n);
}

static gboolean
is_along (const TrammelReading *reading, char letter)
{
  return reading->has_along && trammel_direction_touches (&reading->along, letter);
}

/* (transfer full): those of the machine that are not along @letter. */
static TrammelReadings *
readings_off (const TrammelMachine *machine, char letter)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (trammel_machine_readings (machine), &n);
  g_autoptr (GArray) kept = trammel_reading_array_new (n);
  for (gsize i = 0; i < n; i++)
    if (!is_along (&rows[i], letter))
      {
        g_array_set_size (kept, kept->len + 1);
        trammel_reading_copy (&rows[i], &g_array_index (kept, TrammelReading, kept->len - 1));
      }
  return trammel_readings_take (g_steal_pointer (&kept));
}

static void
say_removed (Ends *ends, char letter)
{
  const TrammelReadings *readings = trammel_machine_readings (trammel_session_machine (ends->session));
  g_autoptr (TrammelReadings) others = readings_off (trammel_session_machine (ends->session), letter);
  gsize left = trammel_readings_length (readings) - trammel_readings_length (others);
  g_autofree char *text
      = left > 0 ? g_strdup_printf (
            ngettext ("Axis %c removed. %u reading along it is left, which cannot be fitted now.",
                      "Axis %c removed. %u readings along it are left, which cannot be fitted now.", left),
            letter, (guint)left)
                 : g_strdup_printf (_ ("Axis %c removed."), letter);
  g_autofree char *remove = g_strdup_printf ("win.remove-readings-along::%c", letter);
  const TrammelAnswer answers[] = { { _ ("Undo"), "win.undo" }, { _ ("Remove readings"), remove } };
  trammel_notices_show (ends->notices, "axes", TRAMMEL_NOTICE_INFO, text, answers, left > 0 ? 2 : 1);
}

static void
remove_readings_along (GSimpleAction *action, GVariant *letter, gpointer data)
{
  Ends *ends = data;
  const TrammelMachine *machine = trammel_session_machine (ends->session);
  g_autoptr (TrammelReadings) others = readings_off (machine, g_variant_get_string (letter, NULL)[0]);
  if (trammel_readings_length (others) < trammel_readings_length (trammel_machine_readings (machine)))
    trammel_session_edit (ends->session, trammel_machine_with_readings (machine, others), _ ("remove readings"), NULL);
  trammel_notices_dismiss (ends->notices, "axes");
}

static void
remove_axis (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  Ends *ends = data;
  int axis = trammel_session_selected_axis (ends->session);
  if (axis < 0)
    return;

  const TrammelMachine *machine = trammel_session_machine (ends->session);
  char letter = trammel_axis_letter (trammel_machine_axis (machine, (gsize)axis));
  trammel_session_edit (ends->session, trammel_machine_without_axis (machine, (gsize)axis), _ ("remove an axis"), NULL);
  say_removed (ends, letter);
}

static void
move_axis (Ends *ends, int by)
{
  const TrammelMachine *machine = trammel_session_machine (ends->session);
  int from = trammel_session_selected_axis (ends->session), to = from + by;
  if (from < 0 || to < 0 || to >= (int)trammel_machine_n_axes (machine))
    return;
  trammel_session_edit (ends->session, trammel_machine_with_axis_moved (machine, (gsize)from, (gsize)to),
                        _ ("move an axis"), NULL);
  trammel_session_select_axis (ends->session, to);
}

static void
move_axis_up (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  move_axis (data, -1);
}

static void
move_axis_down (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  move_axis (data, 1);
}

static void
next_axis (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  Ends *ends = data;
  trammel_session_select_axis (ends->session, trammel_session_selected_axis (ends->session) + 1);
}

static void
previous_axis (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  Ends *ends = data;
  trammel_session_select_axis (ends->session, MAX (trammel_session_selected_axis (ends->session) - 1, 0));
}

static const GActionEntry actions[] = {
  { "add-axis", add_axis, "s" },
  { "remove-axis", remove_axis },
  { "remove-readings-along", remove_readings_along, "s" },
  { "move-axis-up", move_axis_up },
  { "move-axis-down", move_axis_down },
  { "next-axis", next_axis },
  { "previous-axis", previous_axis },
};

void
trammel_axis_actions_install (GActionMap *map, TrammelSession *session, TrammelNotices *notices)
{
  Ends *ends = g_new (Ends, 1);
  *ends = (Ends){ session, notices };
  g_object_set_data_full (G_OBJECT (map), "axis-actions", ends, g_free);
  g_action_map_add_action_entries (map, actions, G_N_ELEMENTS (actions), ends);
}
