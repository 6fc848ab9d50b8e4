/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/fit-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "window/rewrite.h"

struct _TrammelFitView
{
  GtkWidget parent_instance;

  GtkWidget *grid;
  int n_rows; /* written so far */
};

G_DEFINE_FINAL_TYPE (TrammelFitView, trammel_fit_view, GTK_TYPE_WIDGET)

static GtkWidget *
make_label (const char *style, int width)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  if (width > 0)
    gtk_label_set_max_width_chars (GTK_LABEL (label), width);
  if (style)
    gtk_widget_add_css_class (label, style);
  return label;
}

static void
make_row (TrammelFitView *self, int row)
{
  GtkWidget *value = make_label ("numeric", 0), *meaning = make_label ("dim-label", 60);

  gtk_label_set_xalign (GTK_LABEL (value), 1);
  gtk_label_set_selectable (GTK_LABEL (value), TRUE);
  gtk_widget_set_can_focus (value, FALSE);
  gtk_widget_set_hexpand (meaning, TRUE);
  gtk_grid_attach (GTK_GRID (self->grid), make_label (NULL, 22), 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), value, 1, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), meaning, 2, row, 1, 1);
}

static void
write_cell (TrammelFitView *self, int column, int row, const char *text)
{
  trammel_rewrite_label (GTK_LABEL (gtk_grid_get_child_at (GTK_GRID (self->grid), column, row)), text);
}

/* Takes @value. */
static void
add_fact (TrammelFitView *self, const char *name, char *value, const char *meaning)
{
  g_autofree char *taken = value;

  if (!gtk_grid_get_child_at (GTK_GRID (self->grid), 0, self->n_rows))
    make_row (self, self->n_rows);
  write_cell (self, 0, self->n_rows, name);
  write_cell (self, 1, self->n_rows, taken);
  write_cell (self, 2, self->n_rows, meaning);
  self->n_rows++;
}

static void
add_counts (TrammelFitView *self, const TrammelAdjustment *adjustment)
{
  gsize n;

  trammel_adjustment_parameters (adjustment, &n);
  add_fact (self, _ ("Readings used"), g_strdup_printf ("%zu", trammel_adjustment_n_used (adjustment)),
            _ ("rows that are complete"));
  if (trammel_adjustment_n_skipped (adjustment) > 0)
    add_fact (self, _ ("Rows not used"), g_strdup_printf ("%zu", trammel_adjustment_n_skipped (adjustment)),
              _ ("not measured yet, or with a cell that cannot be read"));
  add_fact (self, _ ("Unknowns"), g_strdup_printf ("%zu", n), _ ("what the fit had to find out"));
  add_fact (self, _ ("Degrees of freedom ν"),
            g_strdup_printf ("%" G_GINT64_FORMAT, trammel_adjustment_dof (adjustment)),
            _ ("readings and stated values beyond what is needed to find the unknowns: what is left to check them by"));
}

static const char *
meaning_of_p (double p)
{
  if (isnan (p))
    return _ ("nothing is left over to check the readings by");
  if (p < 0.05)
    return _ ("such a great χ² hardly comes by chance: the readings scatter more than their u says, or one is wrong");
  if (p > 0.95)
    return _ ("the readings agree even better than their u says; u may be smaller than stated");
  return _ ("how often chance alone makes χ² this great: the readings agree with their u");
}

static void
add_stated_scatter (TrammelFitView *self, const TrammelAdjustment *adjustment)
{
  double birge = trammel_adjustment_birge (adjustment), p = trammel_adjustment_p_value (adjustment);

  add_fact (self, _ ("χ²"), trammel_display_significant (trammel_adjustment_chi2 (adjustment), 4),
            _ ("squared differences between readings and fit, each over its own u; about ν is usual"));
  add_fact (self, _ ("p"), trammel_display_p_value (p), meaning_of_p (p));
  add_fact (self, _ ("Birge ratio"), trammel_display_significant (birge, 4),
            birge > 1 ? _ ("all u were multiplied by this, since the readings scatter more than their u says")
                      : _ ("no u had to be enlarged"));
}

static void
add_estimated_scatter (TrammelFitView *self, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  const TrammelUnit *unit = trammel_machine_display_unit (machine);
  double factor = trammel_unit_factor (unit);
  g_autofree char *sigma = trammel_display_significant (trammel_adjustment_sigma (adjustment) / factor, 6);
  g_autofree char *squares = trammel_display_significant (trammel_adjustment_chi2 (adjustment) / (factor * factor), 6);

  add_fact (self, _ ("Residual sum of squares"), g_strdup_printf ("%s %s²", squares, trammel_unit_symbol (unit)),
            _ ("squared differences between readings and fit"));
  add_fact (self, _ ("Standard deviation"), g_strdup_printf ("%s %s", sigma, trammel_unit_symbol (unit)),
            _ ("by which the readings scatter about the fit"));
}

/* What repeated readings of one thing tell apart: their own scatter, and what the model leaves beyond it. */
static void
add_repeats (TrammelFitView *self, const TrammelRepeats *repeats)
{
  if (!repeats)
    return;
  add_fact (self, _ ("Read more than once"), g_strdup_printf ("%zu", repeats->n_groups),
            _ ("things of which there are repeated readings; how these scatter owes nothing to the model"));
  add_fact (self, _ ("Pure error, ν"), g_strdup_printf ("%" G_GINT64_FORMAT, repeats->pure_error_dof),
            _ ("degrees of freedom of the repeats about their own means"));
  if (!isfinite (repeats->f))
    return;
  add_fact (self, _ ("Lack of fit, F"), trammel_display_significant (repeats->f, 4),
            _ ("what the fit leaves beyond the scatter of the repeats, over that scatter; about 1 is usual"));
  add_fact (self, _ ("p of lack of fit"), trammel_display_p_value (repeats->p_value),
            repeats->p_value < TRAMMEL_LACK_OF_FIT_SIGNIFICANCE
                ? _ ("this hardly comes by chance: the machine does something that the model does not know")
                : _ ("how often chance alone makes F this great: nothing speaks against the model"));
}

void
trammel_fit_view_show (TrammelFitView *self, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  g_return_if_fail (TRAMMEL_IS_FIT_VIEW (self) && machine != NULL && adjustment != NULL);

  self->n_rows = 0;
  add_counts (self, adjustment);
  if (trammel_adjustment_scatter (adjustment) == TRAMMEL_SCATTER_STATED)
    add_stated_scatter (self, adjustment);
  else
    add_estimated_scatter (self, machine, adjustment);
  add_repeats (self, trammel_adjustment_repeats (adjustment));
  add_fact (self, _ ("Coverage factor"),
            trammel_display_significant (trammel_adjustment_coverage_factor (adjustment), 4),
            /* xgettext:no-c-format */
            _ ("half of a 95 % interval, in standard uncertainties"));
  while (gtk_grid_get_child_at (GTK_GRID (self->grid), 0, self->n_rows))
    gtk_grid_remove_row (GTK_GRID (self->grid), self->n_rows);
}

static void
trammel_fit_view_dispose (GObject *object)
{
  g_clear_pointer (&TRAMMEL_FIT_VIEW (object)->grid, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_fit_view_parent_class)->dispose (object);
}

static void
trammel_fit_view_class_init (TrammelFitViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_fit_view_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "fit");
}

static void
trammel_fit_view_init (TrammelFitView *self)
{
  self->grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 14);
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 4);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
}
