/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/limits-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "draw/duty-sentences.h"
#include "window/meter-rows.h"
#include "window/rewrite.h"
#include "window/sentence-lines.h"

struct _TrammelLimitsPanel
{
  TrammelAxisPanel parent_instance;

  GtkWidget *root;
  GtkBox *sentences, *details, *missing;
  GtkWidget *missing_part;
  GtkLabel *caption;
  GtkGrid *meters;
};

G_DEFINE_FINAL_TYPE (TrammelLimitsPanel, trammel_limits_panel, TRAMMEL_TYPE_AXIS_PANEL)

/* What is asked of the axis against what one of its limits allows, both as text with unit. */
static void
add_meter (GArray *meters, const char *name, const char *asked, const char *allowed, double share, double mark)
{
  if (isnan (share))
    return;

  const gboolean beyond = share > (isnan (mark) ? 1 : mark) * (1 + 1e-9);
  g_autofree char *percent = trammel_display_significant (100 * share, share < 0.1 ? 1 : 2);
  char *value
      = g_strdup_printf (beyond ? _ ("%s of %s: %s %%, too much") : _ ("%s of %s: %s %%"), asked, allowed, percent);
  trammel_meters_add (meters, g_strdup (name), value, share, mark, beyond);
}

static void
add_speed (GArray *meters, const TrammelBench *bench, const TrammelUnit *unit, const char *name, double asked,
           double allowed, double mark)
{
  g_autofree char *asked_text = trammel_sentences_speed (bench, asked, unit);
  g_autofree char *allowed_text = trammel_sentences_speed (bench, allowed, unit);
  add_meter (meters, name, asked_text, allowed_text, asked / allowed, mark);
}

/* All limits to one scale: how much of what each allows is asked for by the wanted speed, else by the top speed. */
static void
show_meters (TrammelLimitsPanel *self, const TrammelBench *bench)
{
  g_autoptr (GArray) meters = trammel_meters_new ();
  const gboolean wanted = bench->duty->speed > 0;
  const double asked = wanted ? bench->duty->speed : bench->top_speed;
  const TrammelBenchScrew *screw = &bench->screw;
  const TrammelUnit *unit = trammel_axis_panel_unit (TRAMMEL_AXIS_PANEL (self));

  add_speed (meters, bench, unit, _ ("Motor speed"), asked, bench->facts->top_speed_motor, NAN);
  add_speed (meters, bench, unit, _ ("Count rate"), asked, bench->facts->top_speed_rate, NAN);
  add_speed (meters, bench, unit, _ ("Torque at speed"), asked, bench->duty->top_speed_torque, NAN);
  if (bench->has_screw)
    {
      add_speed (meters, bench, unit, _ ("Whirling screw"), asked, screw->whirl_speed, TRAMMEL_SLENDER_MARGIN);
      g_autofree char *push = trammel_sentences_force (bench, screw->push, unit);
      g_autofree char *buckling = trammel_sentences_force (bench, screw->buckling, unit);
      add_meter (meters, _ ("Push on the screw"), push, buckling, screw->push / screw->buckling,
                 TRAMMEL_SLENDER_MARGIN);
    }
  trammel_meter_rows_show (self->meters, meters, TRUE);

  g_autofree char *speed = trammel_sentences_speed (bench, asked, unit);
  g_autofree char *caption
      = g_strdup_printf (wanted ? _ ("How much of what each limit allows the wanted speed of %s and the load ask for.")
                                : _ ("How much of what each limit allows the top speed of %s and the load ask for."),
                         speed);
  g_autofree char *with_mark
      = bench->has_screw ? g_strdup_printf (_ ("%s The line at 80 %% is the usual margin (common practice)."), caption)
                         : NULL;
  trammel_rewrite_label (self->caption, with_mark ? with_mark : caption);
  gtk_widget_set_visible (GTK_WIDGET (self->caption), meters->len > 0);
}

static gboolean
is_about_limits (const TrammelNeed *need)
{
  static const char *const keys[]
      = { "motor.max_speed", "motor.max_count_rate", "motor.torque",  "motor.holding_torque",
          "load.speed",      "output.major",         "output.length", "output.fixity" };
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (g_str_equal (need->place, keys[i]))
      return TRUE;
  return g_str_equal (need->field->key, "center");
}

static void
show_needs (TrammelLimitsPanel *self, const TrammelTrain *train, const TrammelBench *bench)
{
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; bench && i < bench->needs->len; i++)
    {
      const TrammelNeed *need = g_ptr_array_index (bench->needs, i);
      if (is_about_limits (need))
        g_ptr_array_add (sentences, trammel_sentences_need (train, need));
    }
  trammel_sentence_lines_show (self->missing, sentences, "dim-label");
  gtk_widget_set_visible (self->missing_part, sentences->len > 0);
}

static void
add_details (GPtrArray *details, const TrammelAxis *axis, const TrammelBench *bench, const TrammelUnit *unit)
{
  g_ptr_array_add (details, trammel_sentences_steps (bench, unit));
  g_ptr_array_add (details, trammel_sentences_pull_off (bench, unit));
  g_ptr_array_add (details, trammel_sentences_layers (axis, bench, unit));
  g_ptr_array_add (details, trammel_sentences_screw (bench));
  g_ptr_array_add (details, trammel_sentences_whirl (bench, unit));
  g_ptr_array_add (details, trammel_sentences_buckling (bench, unit));
  for (gsize i = 0; i < bench->n_loops; i++)
    g_ptr_array_add (details, trammel_sentences_loop (trammel_axis_train (axis), bench, i, unit));
}

static void
trammel_limits_panel_show (TrammelAxisPanel *panel, const TrammelAxis *axis, const TrammelBench *bench)
{
  TrammelLimitsPanel *self = TRAMMEL_LIMITS_PANEL (panel);
  const TrammelUnit *unit = trammel_axis_panel_unit (panel);
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) details = g_ptr_array_new_with_free_func (g_free);

  show_needs (self, trammel_axis_train (axis), bench);
  gtk_widget_set_visible (GTK_WIDGET (self->meters), bench != NULL);
  gtk_widget_set_visible (GTK_WIDGET (self->caption), bench != NULL);
  if (bench)
    {
      char *speed = trammel_sentences_top_speed (bench, unit);
      g_ptr_array_add (sentences, speed ? speed
                                        : g_strdup (_ ("Give the motor’s top speed, its torque at speed or the "
                                                       "controller’s count rate, and the top speed follows.")));
      add_details (details, axis, bench, unit);
      show_meters (self, bench);
    }
  else
    g_ptr_array_add (sentences, g_strdup (trammel_axis_panel_trouble ()));
  trammel_sentence_lines_show (self->sentences, sentences, "verdict");
  trammel_sentence_lines_show (self->details, details, NULL);
}

static void
trammel_limits_panel_dispose (GObject *object)
{
  g_clear_pointer (&TRAMMEL_LIMITS_PANEL (object)->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_limits_panel_parent_class)->dispose (object);
}

static void
trammel_limits_panel_class_init (TrammelLimitsPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_limits_panel_dispose;
  TRAMMEL_AXIS_PANEL_CLASS (klass)->show = trammel_limits_panel_show;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/limits-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelLimitsPanel, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelLimitsPanel, sentences);
  gtk_widget_class_bind_template_child (widget_class, TrammelLimitsPanel, details);
  gtk_widget_class_bind_template_child (widget_class, TrammelLimitsPanel, missing);
  gtk_widget_class_bind_template_child (widget_class, TrammelLimitsPanel, missing_part);
  gtk_widget_class_bind_template_child (widget_class, TrammelLimitsPanel, caption);
  gtk_widget_class_bind_template_child (widget_class, TrammelLimitsPanel, meters);
}

static void
trammel_limits_panel_init (TrammelLimitsPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
trammel_limits_panel_new (TrammelSession *session)
{
  return trammel_axis_panel_new (TRAMMEL_TYPE_LIMITS_PANEL, session);
}
