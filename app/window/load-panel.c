/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/load-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/duty-sentences.h"
#include "drive/load.h"
#include "drive/motor.h"
#include "window/field-editor.h"
#include "window/meter-rows.h"
#include "window/record-editor.h"
#include "window/sentence-lines.h"

/* Any of them tells how strong the motor is. They are also among its parts. */
static const char *const motor_keys[] = { "torque", "holding_torque", "torque_points" };

struct _TrammelLoadPanel
{
  TrammelAxisPanel parent_instance;

  GtkWidget *root;
  GtkBox *editor_place, *motor_place;
  GtkBox *sentences, *details, *cautions, *missing, *taken;
  GtkWidget *missing_part, *taken_part;
  GtkGrid *meters;
  GtkWidget *editor;
  GtkWidget *motor[G_N_ELEMENTS (motor_keys)];
};

G_DEFINE_FINAL_TYPE (TrammelLoadPanel, trammel_load_panel, TRAMMEL_TYPE_AXIS_PANEL)

static void
load_edited (TrammelRecordEditor *editor, const TrammelRecord *load, TrammelLoadPanel *self)
{
  TrammelSession *session = trammel_axis_panel_session (TRAMMEL_AXIS_PANEL (self));
  const TrammelMachine *machine = trammel_session_machine (session);
  const int i = trammel_session_selected_axis (session);
  if (i < 0)
    return;

  const TrammelAxis *axis = trammel_machine_axis (machine, (gsize)i);
  if (trammel_record_kind (load) != trammel_load_kind (trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY))
    return;
  g_autoptr (TrammelAxis) loaded = trammel_axis_with_load (axis, load);
  trammel_session_edit (session, trammel_machine_with_axis (machine, (gsize)i, loaded, NULL), _ ("change the load"),
                        "load");
}

/* An axis of which nothing was said yet shows an empty load; entering the first thing makes it the axis's own. */
static void
show_load (TrammelLoadPanel *self, const TrammelAxis *axis)
{
  TrammelSession *session = trammel_axis_panel_session (TRAMMEL_AXIS_PANEL (self));
  const TrammelUnit *unit = trammel_machine_display_unit (trammel_session_machine (session));
  const TrammelRecord *own = trammel_axis_load (axis);
  g_autoptr (TrammelRecord) load
      = own ? trammel_record_ref (own)
            : trammel_record_new (trammel_load_kind (trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY));
  trammel_record_editor_set_record (TRAMMEL_RECORD_EDITOR (self->editor), load, unit);
}

static void
motor_edited (GtkWidget *editor, const TrammelRecord *motor, TrammelLoadPanel *self)
{
  TrammelSession *session = trammel_axis_panel_session (TRAMMEL_AXIS_PANEL (self));
  const TrammelMachine *machine = trammel_session_machine (session);
  const int i = trammel_session_selected_axis (session);
  if (i < 0)
    return;

  const TrammelTrain *train = trammel_axis_train (trammel_machine_axis (machine, (gsize)i));
  g_autoptr (TrammelTrain) changed = trammel_train_with_motor (train, motor);
  trammel_session_edit (session, trammel_machine_with_train (machine, (gsize)i, changed), _ ("change the motor"),
                        "motor");
}

static void
add_motor_editors (TrammelLoadPanel *self)
{
  g_autoptr (GtkSizeGroup) labels = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  for (gsize i = 0; i < G_N_ELEMENTS (motor_keys); i++)
    {
      const TrammelField *field = trammel_record_kind_field (trammel_motor_kind ("stepper"), motor_keys[i]);
      self->motor[i] = trammel_field_editor_new (field, labels);
      g_signal_connect (self->motor[i], "edited", G_CALLBACK (motor_edited), self);
      gtk_box_append (self->motor_place, self->motor[i]);
    }
}

static void
show_motor (TrammelLoadPanel *self, const TrammelAxis *axis)
{
  const TrammelRecord *motor = trammel_train_motor (trammel_axis_train (axis));
  for (gsize i = 0; i < G_N_ELEMENTS (motor_keys); i++)
    trammel_field_editor_show (TRAMMEL_FIELD_EDITOR (self->motor[i]), motor, NULL);
}

static void
add_torque (GArray *meters, const char *name, double torque, double available)
{
  if (isnan (torque) || isnan (available))
    return;
  g_autofree char *needed = trammel_sentences_torque (fmax (0, torque));
  g_autofree char *there = trammel_sentences_torque (available);
  const gboolean beyond = torque > available;
  char *value = beyond ? g_strdup_printf (_ ("%s, more than the %s there is"), needed, there)
                       : g_strdup_printf (_ ("%s of %s"), needed, there);
  trammel_meters_add (meters, g_strdup (name), value, torque / available, 1.0 / TRAMMEL_DUTY_USUAL_MARGIN, beyond);
}

static void
show_meters (TrammelLoadPanel *self, const TrammelBench *bench)
{
  g_autoptr (GArray) meters = trammel_meters_new ();
  if (bench)
    {
      const TrammelDuty *duty = bench->duty;
      add_torque (meters, _ ("To start"), duty->torque_start, duty->torque_available);
      add_torque (meters, _ ("To run"), duty->torque_run, duty->torque_available);
      if (duty->weight > 0)
        add_torque (meters, _ ("To raise"), duty->torque_raise, duty->torque_available);
    }
  trammel_meter_rows_show (self->meters, meters, TRUE);
}

/* What has to be entered first for a verdict. */
static const char *
what_is_wanted (const TrammelBench *bench)
{
  if (!isnan (bench->duty->torque_available))
    return _ ("Enter the screw’s major diameter or its efficiency, under Parts, and it is told whether the motor can.");
  if (isnan (bench->duty->force_run))
    return _ ("Enter what the axis has to move, and what its motor has, and it is told whether it can.");
  return _ ("Enter the motor’s torque or its holding torque, and it is told whether it can.");
}

/* The verdict above the bars, what it comes from below them. */
static void
show_sentences (TrammelLoadPanel *self, const TrammelAxis *axis, const TrammelBench *bench)
{
  const TrammelUnit *unit = trammel_axis_panel_unit (TRAMMEL_AXIS_PANEL (self));
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) details = g_ptr_array_new_with_free_func (g_free);
  if (bench)
    {
      char *holds = trammel_sentences_holds (axis, bench, unit);
      g_ptr_array_add (sentences, holds ? holds : g_strdup (what_is_wanted (bench)));
      g_ptr_array_add (details, trammel_sentences_margin (bench));
      if (isnan (bench->duty->torque_available))
        g_ptr_array_add (details, trammel_sentences_torques (bench));
      g_ptr_array_add (details, trammel_sentences_acceleration (bench, unit));
      g_ptr_array_add (details, trammel_sentences_efficiency (trammel_axis_train (axis), bench));
      g_ptr_array_add (details, trammel_sentences_inertia (bench));
      g_ptr_array_add (details, trammel_sentences_power_loss (axis, bench));
    }
  else
    g_ptr_array_add (sentences, g_strdup (trammel_axis_panel_trouble ()));
  trammel_sentence_lines_show (self->sentences, sentences, "verdict");
  trammel_sentence_lines_show (self->details, details, NULL);
}

/* What bears on the load: a part's play is told of in its own panel. */
static gboolean
is_about_load (const TrammelNeed *need)
{
  return !g_str_equal (need->field->key, "lash") && !g_str_equal (need->field->key, "center");
}

static void
show_needs (TrammelLoadPanel *self, const TrammelAxis *axis, const TrammelBench *bench, gboolean taken)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; bench && i < bench->duty->needs->len; i++)
    {
      const TrammelNeed *need = g_ptr_array_index (bench->duty->needs, i);
      if ((need->taken != NULL) == taken && is_about_load (need))
        g_ptr_array_add (sentences, trammel_sentences_need (trammel_axis_train (axis), need));
    }
  trammel_sentence_lines_show (taken ? self->taken : self->missing, sentences, "dim-label");
  gtk_widget_set_visible (taken ? self->taken_part : self->missing_part, sentences->len > 0);
}

static void
trammel_load_panel_show (TrammelAxisPanel *panel, const TrammelAxis *axis, const TrammelBench *bench)
{
  TrammelLoadPanel *self = TRAMMEL_LOAD_PANEL (panel);
  g_autoptr (GPtrArray) cautions
      = bench ? trammel_sentences_cautions (axis, bench) : g_ptr_array_new_with_free_func (g_free);

  show_load (self, axis);
  show_motor (self, axis);
  show_sentences (self, axis, bench);
  show_meters (self, bench);
  trammel_sentence_lines_show (self->cautions, cautions, "caution");
  show_needs (self, axis, bench, FALSE);
  show_needs (self, axis, bench, TRUE);
}

static void
trammel_load_panel_leave (TrammelAxisPanel *panel)
{
  TrammelLoadPanel *self = TRAMMEL_LOAD_PANEL (panel);
  trammel_record_editor_restore (TRAMMEL_RECORD_EDITOR (self->editor));
  for (gsize i = 0; i < G_N_ELEMENTS (motor_keys); i++)
    trammel_field_editor_restore (TRAMMEL_FIELD_EDITOR (self->motor[i]));
}

static void
trammel_load_panel_dispose (GObject *object)
{
  g_clear_pointer (&TRAMMEL_LOAD_PANEL (object)->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_load_panel_parent_class)->dispose (object);
}

static void
trammel_load_panel_class_init (TrammelLoadPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  TrammelAxisPanelClass *panel_class = TRAMMEL_AXIS_PANEL_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_load_panel_dispose;
  panel_class->show = trammel_load_panel_show;
  panel_class->leave = trammel_load_panel_leave;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/load-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, editor_place);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, motor_place);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, sentences);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, details);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, cautions);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, missing);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, taken);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, missing_part);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, taken_part);
  gtk_widget_class_bind_template_child (widget_class, TrammelLoadPanel, meters);
}

static void
trammel_load_panel_init (TrammelLoadPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->editor = trammel_record_editor_new ();
  gtk_box_append (self->editor_place, self->editor);
  g_signal_connect (self->editor, "edited", G_CALLBACK (load_edited), self);
  add_motor_editors (self);
}

GtkWidget *
trammel_load_panel_new (TrammelSession *session)
{
  return trammel_axis_panel_new (TRAMMEL_TYPE_LOAD_PANEL, session);
}
