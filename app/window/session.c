/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/session.h"

#include "window/derived.h"
#include "window/history.h"

struct _TrammelSession
{
  GObject parent_instance;

  TrammelHistory *history;
  TrammelMachine *saved; /* the value that is on disk, or the one a new document starts with */
  gboolean never_saved;  /* holds unsaved work even where the value has not been edited */
  GFile *file;
  TrammelDerived *derived;

  int axis, part, reading; /* selection */
};

G_DEFINE_FINAL_TYPE (TrammelSession, trammel_session, G_TYPE_OBJECT)

enum
{
  PROP_0,
  PROP_FILE,
  PROP_MODIFIED,
  PROP_CAN_UNDO,
  PROP_CAN_REDO,
  PROP_UNDO_LABEL,
  PROP_REDO_LABEL,
  PROP_ADJUSTING,
  N_PROPERTIES
};

enum
{
  CHANGED,
  SELECTION_CHANGED,
  ADJUSTED,
  OPENED,
  N_SIGNALS
};

static GParamSpec *properties[N_PROPERTIES];
static guint signals[N_SIGNALS];

TrammelSession *
trammel_session_new (void)
{
  return g_object_new (TRAMMEL_TYPE_SESSION, NULL);
}

const TrammelMachine *
trammel_session_machine (TrammelSession *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), NULL);
  return trammel_history_current (self->history);
}

/* Selection */

static int
highest_part (TrammelSession *self, int axis)
{
  const TrammelMachine *machine = trammel_session_machine (self);
  return axis < 0 ? -1 : (int)trammel_train_n_stages (trammel_axis_train (trammel_machine_axis (machine, axis))) + 1;
}

/* Moves the selection, as far as the value allows; tells when it is another one. */
static void
move_selection (TrammelSession *self, int axis, int part, int reading)
{
  const TrammelMachine *machine = trammel_session_machine (self);
  int n_axes = (int)trammel_machine_n_axes (machine);
  int n_readings = (int)trammel_readings_length (trammel_machine_readings (machine));

  axis = CLAMP (axis, n_axes > 0 ? 0 : -1, n_axes - 1);
  part = CLAMP (part, -1, highest_part (self, axis));
  reading = CLAMP (reading, -1, n_readings - 1);
  if (axis == self->axis && part == self->part && reading == self->reading)
    return;

  self->axis = axis;
  self->part = part;
  self->reading = reading;
  g_signal_emit (self, signals[SELECTION_CHANGED], 0);
}

int
trammel_session_selected_axis (TrammelSession *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), -1);
  return self->axis;
}

int
trammel_session_selected_part (TrammelSession *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), -1);
  return self->part;
}

int
trammel_session_selected_reading (TrammelSession *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), -1);
  return self->reading;
}

void
trammel_session_select_axis (TrammelSession *self, int axis)
{
  g_return_if_fail (TRAMMEL_IS_SESSION (self));
  move_selection (self, axis, axis == self->axis ? self->part : -1, self->reading);
}

void
trammel_session_select_part (TrammelSession *self, int part)
{
  g_return_if_fail (TRAMMEL_IS_SESSION (self));
  move_selection (self, self->axis, part, self->reading);
}

void
trammel_session_select_reading (TrammelSession *self, int row)
{
  g_return_if_fail (TRAMMEL_IS_SESSION (self));
  move_selection (self, self->axis, self->part, row);
}

/* The value */

static void
notify_state (TrammelSession *self)
{
  for (int i = PROP_FILE; i < PROP_ADJUSTING; i++)
    g_object_notify_by_pspec (G_OBJECT (self), properties[i]);
}

/* Another value is in place: the selection is brought within it first, so that nobody is shown what is not there. */
static void
value_changed (TrammelSession *self, int axis, int part)
{
  int before[] = { self->axis, self->part, self->reading };
  const TrammelMachine *machine = trammel_session_machine (self);
  int n_axes = (int)trammel_machine_n_axes (machine);
  int n_readings = (int)trammel_readings_length (trammel_machine_readings (machine));

  self->axis = CLAMP (axis, n_axes > 0 ? 0 : -1, n_axes - 1);
  self->part = CLAMP (part, -1, highest_part (self, self->axis));
  self->reading = CLAMP (self->reading, -1, n_readings - 1);

  notify_state (self);
  g_signal_emit (self, signals[CHANGED], 0);
  if (before[0] != self->axis || before[1] != self->part || before[2] != self->reading)
    g_signal_emit (self, signals[SELECTION_CHANGED], 0);
}

void
trammel_session_edit (TrammelSession *self, TrammelMachine *machine, const char *what, const char *merge)
{
  g_return_if_fail (TRAMMEL_IS_SESSION (self));
  g_return_if_fail (what != NULL);

  if (!machine)
    return;
  if (trammel_machine_equal (machine, trammel_session_machine (self)))
    {
      trammel_machine_unref (machine);
      return;
    }

  trammel_history_put (self->history, machine, what, merge, self->axis, g_get_monotonic_time ());
  value_changed (self, self->axis, self->part);
}

void
trammel_session_undo (TrammelSession *self)
{
  int axis;
  g_return_if_fail (TRAMMEL_IS_SESSION (self));
  if (trammel_history_undo (self->history, &axis))
    value_changed (self, axis, axis == self->axis ? self->part : -1);
}

void
trammel_session_redo (TrammelSession *self)
{
  int axis;
  g_return_if_fail (TRAMMEL_IS_SESSION (self));
  if (trammel_history_redo (self->history, &axis))
    value_changed (self, axis, axis == self->axis ? self->part : -1);
}

static void
set_saved (TrammelSession *self, const TrammelMachine *machine)
{
  TrammelMachine *saved = trammel_machine_ref (machine);
  g_clear_pointer (&self->saved, trammel_machine_unref);
  self->saved = saved;
}

void
trammel_session_open (TrammelSession *self, TrammelMachine *machine, GFile *file, gboolean modified)
{
  g_return_if_fail (TRAMMEL_IS_SESSION (self));
  g_return_if_fail (machine != NULL);

  g_clear_pointer (&self->history, trammel_history_free);
  self->history = trammel_history_new (machine);
  set_saved (self, machine);
  self->never_saved = modified;
  g_set_object (&self->file, file);
  trammel_machine_unref (machine);

  self->reading = -1;
  value_changed (self, 0, -1);
  g_signal_emit (self, signals[OPENED], 0);
}

void
trammel_session_saved (TrammelSession *self, GFile *file)
{
  g_return_if_fail (TRAMMEL_IS_SESSION (self));

  trammel_history_end_merging (self->history);
  set_saved (self, trammel_session_machine (self));
  self->never_saved = FALSE;
  g_set_object (&self->file, file);
  notify_state (self);
}

GFile *
trammel_session_file (TrammelSession *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), NULL);
  return self->file;
}

gboolean
trammel_session_is_modified (TrammelSession *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), FALSE);
  return self->never_saved || trammel_session_machine (self) != self->saved;
}

/* What follows from the value */

static void
adjusted (gpointer user_data)
{
  TrammelSession *self = TRAMMEL_SESSION (user_data);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_ADJUSTING]);
  g_signal_emit (self, signals[ADJUSTED], 0);
}

const TrammelFacts *
trammel_session_facts (TrammelSession *self, gsize i, GError **error)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), NULL);
  return trammel_derived_facts (self->derived, trammel_session_machine (self), i, error);
}

const TrammelAdjustment *
trammel_session_adjustment (TrammelSession *self, GError **error)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), NULL);

  gboolean before = trammel_derived_is_adjusting (self->derived);
  const TrammelAdjustment *adjustment
      = trammel_derived_adjustment (self->derived, trammel_session_machine (self), error);
  if (before != trammel_derived_is_adjusting (self->derived))
    g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_ADJUSTING]);
  return adjustment;
}

gboolean
trammel_session_is_adjusting (TrammelSession *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), FALSE);
  return trammel_derived_is_adjusting (self->derived);
}

TrammelScatter
trammel_session_scatter (TrammelSession *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), TRAMMEL_SCATTER_STATED);
  return trammel_derived_scatter (self->derived);
}

gboolean
trammel_session_robust (TrammelSession *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (self), FALSE);
  return trammel_derived_robust (self->derived);
}

void
trammel_session_set_method (TrammelSession *self, TrammelScatter scatter, gboolean robust)
{
  g_return_if_fail (TRAMMEL_IS_SESSION (self));
  if (trammel_derived_set_method (self->derived, scatter, robust))
    g_signal_emit (self, signals[CHANGED], 0);
}

static void
trammel_session_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TrammelSession *self = TRAMMEL_SESSION (object);
  switch (id)
    {
    case PROP_FILE:
      g_value_set_object (value, self->file);
      break;
    case PROP_MODIFIED:
      g_value_set_boolean (value, trammel_session_is_modified (self));
      break;
    case PROP_CAN_UNDO:
      g_value_set_boolean (value, trammel_history_undo_label (self->history) != NULL);
      break;
    case PROP_CAN_REDO:
      g_value_set_boolean (value, trammel_history_redo_label (self->history) != NULL);
      break;
    case PROP_UNDO_LABEL:
      g_value_set_string (value, trammel_history_undo_label (self->history));
      break;
    case PROP_REDO_LABEL:
      g_value_set_string (value, trammel_history_redo_label (self->history));
      break;
    case PROP_ADJUSTING:
      g_value_set_boolean (value, trammel_derived_is_adjusting (self->derived));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
trammel_session_finalize (GObject *object)
{
  TrammelSession *self = TRAMMEL_SESSION (object);
  trammel_derived_free (self->derived);
  trammel_history_free (self->history);
  trammel_machine_unref (self->saved);
  g_clear_object (&self->file);
  G_OBJECT_CLASS (trammel_session_parent_class)->finalize (object);
}

static void
trammel_session_class_init (TrammelSessionClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  const GParamFlags flags = G_PARAM_READABLE | G_PARAM_STATIC_STRINGS;
  object_class->get_property = trammel_session_get_property;
  object_class->finalize = trammel_session_finalize;

  properties[PROP_FILE] = g_param_spec_object ("file", NULL, NULL, G_TYPE_FILE, flags);
  properties[PROP_MODIFIED] = g_param_spec_boolean ("modified", NULL, NULL, FALSE, flags);
  properties[PROP_CAN_UNDO] = g_param_spec_boolean ("can-undo", NULL, NULL, FALSE, flags);
  properties[PROP_CAN_REDO] = g_param_spec_boolean ("can-redo", NULL, NULL, FALSE, flags);
  properties[PROP_UNDO_LABEL] = g_param_spec_string ("undo-label", NULL, NULL, NULL, flags);
  properties[PROP_REDO_LABEL] = g_param_spec_string ("redo-label", NULL, NULL, NULL, flags);
  properties[PROP_ADJUSTING] = g_param_spec_boolean ("adjusting", NULL, NULL, FALSE, flags);
  g_object_class_install_properties (object_class, N_PROPERTIES, properties);

  const char *names[N_SIGNALS] = { "changed", "selection-changed", "adjusted", "opened" };
  for (int i = 0; i < N_SIGNALS; i++)
    signals[i] = g_signal_new (names[i], TRAMMEL_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
trammel_session_init (TrammelSession *self)
{
  self->saved = trammel_machine_new ();
  self->history = trammel_history_new (self->saved);
  self->derived = trammel_derived_new (adjusted, self);
  self->axis = self->part = self->reading = -1;
}
