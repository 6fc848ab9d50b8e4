/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/limits-panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/duty-sentences.h"
#include "window/meter-rows.h"
#include "window/sentence-lines.h"

struct _TrammelLimitsPanel
{
  TrammelAxisPanel parent_instance;

  GtkWidget *root;
  GtkBox *sentences, *details, *missing;
  GtkWidget *missing_part;
  GtkGrid *meters;
};

G_DEFINE_FINAL_TYPE (TrammelLimitsPanel, trammel_limits_panel, TRAMMEL_TYPE_AXIS_PANEL)

typedef struct
{
  TrammelLimit limit;
  const char *name; /* N_() */
  double speed;
} Limit;

#define N_LIMITS 4

static void
find_limits (const TrammelBench *bench, Limit limits[N_LIMITS])
{
  limits[0] = (Limit){ TRAMMEL_LIMIT_MOTOR_SPEED, N_ ("Motor speed"), bench->facts->top_speed_motor };
  limits[1] = (Limit){ TRAMMEL_LIMIT_COUNT_RATE, N_ ("Count rate"), bench->facts->top_speed_rate };
  limits[2] = (Limit){ TRAMMEL_LIMIT_TORQUE, N_ ("Torque at speed"), bench->duty->top_speed_torque };
  limits[3] = (Limit){ TRAMMEL_LIMIT_WHIRL, N_ ("Whirling screw"), bench->facts->top_speed_whirl };
}

/* Limits that lie farther above the one that counts than this have full bars: how far does not matter. */
#define FAR_ABOVE 3

/* Each limit to one scale, so that the shortest bar is the one that stops it; the wanted speed among them. */
static void
show_meters (TrammelLimitsPanel *self, const TrammelBench *bench)
{
  g_autoptr (GArray) meters = trammel_meters_new ();
  const double wanted = bench->duty->speed;
  double longest = wanted;
  Limit limits[N_LIMITS];

  find_limits (bench, limits);
  for (gsize i = 0; i < N_LIMITS; i++)
    longest = fmax (longest, limits[i].speed);
  longest = fmax (fmin (longest, FAR_ABOVE * bench->top_speed), wanted);
  for (gsize i = 0; i < N_LIMITS; i++)
    {
      if (isnan (limits[i].speed))
        continue;
      g_autofree char *speed = trammel_sentences_speed (bench, limits[i].speed);
      char *value = limits[i].limit == bench->limit ? g_strdup_printf (_ ("%s, the limit"), speed) : g_strdup (speed);
      trammel_meters_add (meters, g_strdup (_ (limits[i].name)), value, limits[i].speed / longest, FALSE);
    }
  if (!isnan (wanted) && meters->len > 0)
    {
      g_autofree char *speed = trammel_sentences_speed (bench, wanted);
      const gboolean beyond = wanted > bench->top_speed;
      trammel_meters_add (meters, g_strdup (_ ("Wanted speed")),
                          beyond ? g_strdup_printf (_ ("%s, too fast"), speed) : g_strdup (speed), wanted / longest,
                          beyond);
    }
  trammel_meter_rows_show (self->meters, meters);
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
add_details (GPtrArray *details, const TrammelAxis *axis, const TrammelBench *bench)
{
  g_ptr_array_add (details, trammel_sentences_steps (bench));
  g_ptr_array_add (details, trammel_sentences_pull_off (bench));
  g_ptr_array_add (details, trammel_sentences_layers (axis, bench));
  g_ptr_array_add (details, trammel_sentences_screw (bench));
  g_ptr_array_add (details, trammel_sentences_whirl (bench));
  g_ptr_array_add (details, trammel_sentences_buckling (bench));
  for (gsize i = 0; i < bench->n_loops; i++)
    g_ptr_array_add (details, trammel_sentences_loop (trammel_axis_train (axis), bench, i));
}

static void
trammel_limits_panel_show (TrammelAxisPanel *panel, const TrammelAxis *axis, const TrammelBench *bench)
{
  TrammelLimitsPanel *self = TRAMMEL_LIMITS_PANEL (panel);
  g_autoptr (GPtrArray) sentences = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) details = g_ptr_array_new_with_free_func (g_free);

  show_needs (self, trammel_axis_train (axis), bench);
  gtk_widget_set_visible (GTK_WIDGET (self->meters), bench != NULL);
  if (bench)
    {
      char *speed = trammel_sentences_top_speed (bench);
      g_ptr_array_add (sentences, speed ? speed
                                        : g_strdup (_ ("Give the motor’s top speed, its torque at speed or the "
                                                       "controller’s count rate, and the top speed follows.")));
      add_details (details, axis, bench);
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
