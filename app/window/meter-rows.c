/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/meter-rows.h"

#include <math.h>

#include "window/meter-bar.h"
#include "window/rewrite.h"

enum
{
  NAME,
  BAR,
  VALUE
};

static void
clear_meter (gpointer data)
{
  TrammelMeter *meter = data;
  g_free (meter->name);
  g_free (meter->value);
}

GArray *
trammel_meters_new (void)
{
  GArray *meters = g_array_new (FALSE, FALSE, sizeof (TrammelMeter));
  g_array_set_clear_func (meters, clear_meter);
  return meters;
}

void
trammel_meters_add (GArray *meters, char *name, char *value, double share, double mark, gboolean beyond)
{
  const TrammelMeter meter = { name, value, share, mark, beyond };
  g_array_append_val (meters, meter);
}

static GtkWidget *
make_label (float align)
{
  GtkWidget *label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (label), align);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  return label;
}

static GtkWidget *
make_bar (GtkWidget *name)
{
  GtkWidget *bar = trammel_meter_bar_new ();
  gtk_widget_set_hexpand (bar, TRUE);
  gtk_widget_set_valign (bar, GTK_ALIGN_CENTER);
  gtk_widget_set_size_request (bar, 100, -1);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (bar), GTK_ACCESSIBLE_RELATION_LABELLED_BY, name, NULL, -1);
  return bar;
}

static void
add_row (GtkGrid *grid, int row)
{
  GtkWidget *name = make_label (0), *value = make_label (0);
  gtk_widget_add_css_class (name, "dim-label");
  gtk_widget_add_css_class (value, "numeric");
  gtk_grid_attach (grid, name, NAME, row, 1, 1);
  gtk_grid_attach (grid, make_bar (name), BAR, row, 1, 1);
  gtk_grid_attach (grid, value, VALUE, row, 1, 1);
}

static void
show_meter (GtkGrid *grid, int row, const TrammelMeter *meter)
{
  GtkWidget *bar = gtk_grid_get_child_at (grid, BAR, row);

  trammel_rewrite_label (GTK_LABEL (gtk_grid_get_child_at (grid, NAME, row)), meter->name);
  trammel_rewrite_label (GTK_LABEL (gtk_grid_get_child_at (grid, VALUE, row)), meter->value);
  trammel_meter_bar_show (TRAMMEL_METER_BAR (bar), meter->share, meter->mark, meter->beyond);
  gtk_accessible_update_property (GTK_ACCESSIBLE (bar), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, meter->value, -1);
}

static GtkWidget *
make_scale (void)
{
  GtkWidget *scale = gtk_center_box_new ();
  gtk_center_box_set_start_widget (GTK_CENTER_BOX (scale), gtk_label_new ("0"));
  gtk_center_box_set_center_widget (GTK_CENTER_BOX (scale), gtk_label_new ("50"));
  gtk_center_box_set_end_widget (GTK_CENTER_BOX (scale), gtk_label_new ("100 %"));
  gtk_widget_add_css_class (scale, "dim-label");
  gtk_widget_add_css_class (scale, "small");
  return scale;
}

void
trammel_meter_rows_show (GtkGrid *grid, const GArray *meters, gboolean with_scale)
{
  g_return_if_fail (GTK_IS_GRID (grid) && meters != NULL);

  const int rows = (int)meters->len;
  for (int row = 0; row < rows; row++)
    {
      if (gtk_grid_get_child_at (grid, BAR, row) && !gtk_grid_get_child_at (grid, NAME, row))
        gtk_grid_remove_row (grid, row); /* the scale of fewer rows */
      if (!gtk_grid_get_child_at (grid, NAME, row))
        add_row (grid, row);
      show_meter (grid, row, &g_array_index (meters, TrammelMeter, row));
    }
  while (gtk_grid_get_child_at (grid, BAR, rows))
    gtk_grid_remove_row (grid, rows);
  if (with_scale)
    gtk_grid_attach (grid, make_scale (), BAR, rows, 1, 1);
  gtk_widget_set_visible (GTK_WIDGET (grid), rows > 0);
}
