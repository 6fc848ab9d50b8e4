/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/facts-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "drive/bench.h"
#include "draw/duty-sentences.h"
#include "drive/motor.h"
#include "window/rewrite.h"

struct _TrammelFactsView
{
  GtkWidget parent_instance;

  GtkWidget *box;
  GtkWidget *value;   /* the counts per unit, large */
  GtkWidget *caption; /* of what */
  GtkWidget *in_force;
  GtkWidget *trouble;
  GtkWidget *grid;
};

G_DEFINE_FINAL_TYPE (TrammelFactsView, trammel_facts_view, GTK_TYPE_WIDGET)

/* Rows are kept and written anew, so that an edit makes no new widgets. */
static GtkLabel *
cell (TrammelFactsView *self, int column, int row)
{
  GtkWidget *label = gtk_grid_get_child_at (GTK_GRID (self->grid), column, row);
  if (!label)
    {
      label = gtk_label_new (NULL);
      gtk_widget_set_visible (label, FALSE);
      gtk_label_set_wrap (GTK_LABEL (label), TRUE);
      gtk_label_set_xalign (GTK_LABEL (label), column);
      gtk_widget_set_hexpand (label, column == 0);
      gtk_label_set_selectable (GTK_LABEL (label), column == 1);
      if (column == 1)
        {
          GtkWidget *name = GTK_WIDGET (cell (self, 0, row));
          gtk_label_set_justify (GTK_LABEL (label), GTK_JUSTIFY_RIGHT);
          gtk_widget_add_css_class (label, "numeric");
          gtk_accessible_update_relation (GTK_ACCESSIBLE (label), GTK_ACCESSIBLE_RELATION_LABELLED_BY, name, NULL, -1);
        }
      gtk_grid_attach (GTK_GRID (self->grid), label, column, row, 1, 1);
    }
  return GTK_LABEL (label);
}

/* Shown last: what is written into hidden labels costs nothing. */
static void
show_row (GtkLabel *left, GtkLabel *right)
{
  gtk_widget_set_visible (GTK_WIDGET (left), TRUE);
  gtk_widget_set_visible (GTK_WIDGET (right), TRUE);
}

static void
add_fact (TrammelFactsView *self, int *row, const char *name, const char *value, const char *meaning)
{
  GtkLabel *left = cell (self, 0, *row), *right = cell (self, 1, *row);
  trammel_rewrite_label (left, name);
  trammel_rewrite_label (right, value);
  trammel_rewrite_classes (GTK_WIDGET (left), (const char *[]){ "dim-label", NULL });
  gtk_widget_set_margin_top (GTK_WIDGET (left), 0);
  trammel_rewrite_tooltip (GTK_WIDGET (left), meaning);
  show_row (left, right);
  *row += 1;
}

static void
add_heading (TrammelFactsView *self, int *row, const char *text)
{
  GtkLabel *left = cell (self, 0, *row), *right = cell (self, 1, *row);
  trammel_rewrite_label (left, text);
  trammel_rewrite_classes (GTK_WIDGET (left), (const char *[]){ "heading", NULL });
  gtk_widget_set_margin_top (GTK_WIDGET (left), 10);
  trammel_rewrite_tooltip (GTK_WIDGET (left), NULL);
  trammel_rewrite_label (right, NULL);
  show_row (left, right);
  gtk_widget_set_visible (GTK_WIDGET (right), FALSE); /* nothing that the keyboard could go to */
  *row += 1;
}

static void
hide_rows_from (TrammelFactsView *self, int row)
{
  GtkWidget *left;
  for (; (left = gtk_grid_get_child_at (GTK_GRID (self->grid), 0, row)); row++)
    {
      GtkWidget *right = gtk_grid_get_child_at (GTK_GRID (self->grid), 1, row);
      gtk_widget_set_visible (left, FALSE);
      if (right)
        gtk_widget_set_visible (right, FALSE);
    }
}

/* Small travels read better in µm, inches in four significant digits. */
static char *
travel_text (double travel, gboolean rotary, const TrammelUnit *unit)
{
  double factor = trammel_unit_factor (unit);
  if (isnan (travel))
    return g_strdup ("—");
  if (rotary)
    {
      g_autofree char *number = trammel_display_significant (travel, 5);
      return g_strdup_printf ("%s°", number);
    }
  if (factor == 1 && fabs (travel) < 0.1)
    {
      g_autofree char *number = trammel_display_significant (travel * 1000, 5);
      return g_strdup_printf ("%s µm", number);
    }
  g_autofree char *number = trammel_display_significant (travel / factor, 5);
  return g_strdup_printf ("%s %s", number, trammel_unit_symbol (unit));
}

static void
add_travel (TrammelFactsView *self, int *row, const char *name, double travel, gboolean rotary, const TrammelUnit *unit,
            const char *meaning)
{
  g_autofree char *text = travel_text (travel, rotary, unit);
  add_fact (self, row, name, text, meaning);
}

/* With the load, where the torque may give out before the motor's speed does. */
static void
add_speed (TrammelFactsView *self, int *row, const TrammelAxis *axis, const TrammelFacts *facts,
           const TrammelUnit *unit)
{
  g_autoptr (TrammelBench) bench = trammel_bench_new (trammel_axis_train (axis), trammel_axis_load (axis), NULL);
  const double top_speed = bench ? bench->top_speed : facts->top_speed;
  const TrammelLimit limit = bench ? bench->limit : facts->limit;

  if (isnan (top_speed))
    {
      add_fact (
          self, row, _ ("Top speed"), _ ("not known"),
          _ ("Give the motor's greatest speed or the controller's greatest count rate, and the top speed follows"));
      return;
    }
  g_autofree char *travel = travel_text (top_speed, facts->rotary, unit);
  g_autofree char *text = g_strdup_printf ("%s/s", travel);
  add_fact (self, row, _ ("Top speed"), text, _ ("How fast the axis can go before one of its limits stops it"));
  add_fact (self, row, _ ("Limited by"), trammel_sentences_limit (limit),
            _ ("What would have to be raised for the axis to go faster"));
}

static void
add_shafts (TrammelFactsView *self, int *row, const TrammelFacts *facts, const TrammelUnit *unit)
{
  add_heading (self, row, _ ("Travel per turn of each shaft"));
  for (gsize i = 0; i < facts->n_shafts; i++)
    {
      g_autofree char *name = i == 0                     ? g_strdup (_ ("Motor shaft"))
                              : i + 1 == facts->n_shafts ? g_strdup (_ ("Output shaft"))
                                                         : g_strdup_printf (_ ("After stage %u"), (guint)i);
      g_autofree char *turns = trammel_display_significant (facts->shafts[i].turns_per_unit, 5);
      g_autofree char *meaning = g_strdup_printf (
          facts->rotary
              ? _ ("Turns %s times for each degree of positive travel; a minus sign: it turns the other way")
              : _ ("Turns %s times for each millimetre of positive travel; a minus sign: it turns the other way"),
          turns);
      add_travel (self, row, name, facts->shafts[i].travel_per_turn, facts->rotary, unit, meaning);
    }
}

static void
show_in_force (TrammelFactsView *self, const TrammelAxis *axis)
{
  double value, u;
  if (!trammel_axis_set_in_force (axis, &value, &u))
    {
      trammel_rewrite_label (GTK_LABEL (self->in_force), _ ("This exact value is in force."));
      return;
    }
  g_autofree char *interval = trammel_display_interval (value, TRAMMEL_DISPLAY_95 * u);
  g_autofree char *text = g_strdup_printf (_ ("In force: %s (95 %%), from readings."), interval);
  trammel_rewrite_label (GTK_LABEL (self->in_force), text);
}

void
trammel_facts_view_show (TrammelFactsView *self, const TrammelAxis *axis, const TrammelFacts *facts,
                         const char *trouble, const TrammelUnit *unit)
{
  g_return_if_fail (TRAMMEL_IS_FACTS_VIEW (self));

  gtk_widget_set_visible (self->trouble, facts == NULL && trouble);
  gtk_widget_set_visible (self->in_force, facts != NULL);
  trammel_rewrite_label (GTK_LABEL (self->trouble), trouble);
  if (!facts || !axis)
    {
      trammel_rewrite_label (GTK_LABEL (self->value), "—");
      trammel_rewrite_label (GTK_LABEL (self->caption), NULL);
      hide_rows_from (self, 0);
      return;
    }

  gboolean stepper = trammel_motor_counts_per_full_step (trammel_train_motor (trammel_axis_train (axis))) > 0;
  g_autofree char *exact = trammel_exact_to_display (facts->counts_per_unit, trammel_display_decimal_sign ());
  trammel_rewrite_label (GTK_LABEL (self->value), exact);
  trammel_rewrite_label (
      GTK_LABEL (self->caption),
      facts->rotary
          ? (stepper ? _ ("steps per degree, from the teeth") : _ ("counts per degree, from the teeth"))
          : (stepper ? _ ("steps per millimetre, from the teeth") : _ ("counts per millimetre, from the teeth")));
  show_in_force (self, axis);

  int row = 0;
  add_travel (self, &row, stepper ? _ ("Travel per step") : _ ("Travel per count"), facts->travel_per_count,
              facts->rotary, unit, _ ("The smallest move that can be commanded; a real axis is not this accurate"));
  if (stepper)
    add_travel (self, &row, _ ("Travel per full step"), facts->travel_per_full_step, facts->rotary, unit,
                _ ("What the motor can be trusted to hold under load"));
  add_travel (self, &row, _ ("Travel per motor turn"), facts->travel_per_motor_turn, facts->rotary, unit,
              _ ("How far the axis moves while the motor turns once"));
  add_fact (self, &row, stepper ? _ ("Positive steps") : _ ("Positive counts"),
            facts->direction > 0 ? _ ("move towards +") : _ ("move towards −"),
            _ ("Which way the axis goes; “Motor reversed” turns it round"));
  add_speed (self, &row, axis, facts, unit);
  add_shafts (self, &row, facts, unit);
  hide_rows_from (self, row);
}

static void
trammel_facts_view_dispose (GObject *object)
{
  g_clear_pointer (&TRAMMEL_FACTS_VIEW (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_facts_view_parent_class)->dispose (object);
}

static void
trammel_facts_view_class_init (TrammelFactsViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_facts_view_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/facts-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelFactsView, box);
  gtk_widget_class_bind_template_child (widget_class, TrammelFactsView, value);
  gtk_widget_class_bind_template_child (widget_class, TrammelFactsView, caption);
  gtk_widget_class_bind_template_child (widget_class, TrammelFactsView, in_force);
  gtk_widget_class_bind_template_child (widget_class, TrammelFactsView, trouble);
  gtk_widget_class_bind_template_child (widget_class, TrammelFactsView, grid);
}

static void
trammel_facts_view_init (TrammelFactsView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
