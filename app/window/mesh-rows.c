/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/mesh-rows.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "window/rewrite.h"

#define MOST_ROWS 60

/* What is told of a row: kept with it, made once, then rewritten. */
typedef struct
{
  GtkLabel *mark, *place, *words;
  gsize offset;
} Row;

static Row *
row_at (GtkListBox *list, int i)
{
  GtkListBoxRow *widget = gtk_list_box_get_row_at_index (list, i);
  return widget ? g_object_get_data (G_OBJECT (widget), "trammel-row") : NULL;
}

static GtkLabel *
add_label (GtkWidget *box, const char *class)
{
  GtkWidget *label = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, class);
  gtk_box_append (GTK_BOX (box), label);
  return GTK_LABEL (label);
}

static void
add_row (GtkListBox *list)
{
  GtkWidget *widget = gtk_list_box_row_new ();
  GtkWidget *across = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  GtkWidget *lines = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  Row *row = g_new0 (Row, 1);

  row->mark = add_label (across, "mesh-mark");
  gtk_widget_set_hexpand (lines, TRUE);
  gtk_box_append (GTK_BOX (across), lines);
  row->place = add_label (lines, "numeric");
  row->words = add_label (lines, "dim-label");
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (widget), across);
  g_object_set_data_full (G_OBJECT (widget), "trammel-row", row, g_free);
  gtk_list_box_append (list, widget);
}

static char *
length (double mm, const TrammelUnit *unit)
{
  return trammel_display_length (mm, unit, trammel_unit_factor (unit) == 1 ? 3 : 4);
}

static const char *
mark_of (const TrammelMesh *mesh)
{
  switch (mesh->state)
    {
    case TRAMMEL_MESH_RUNS:
      return "●";
    case TRAMMEL_MESH_APART:
    case TRAMMEL_MESH_SHORT:
      return "○";
    case TRAMMEL_MESH_BINDS:
    case TRAMMEL_MESH_BOTTOMS:
    case TRAMMEL_MESH_TIPS_MEET:
    default:
      return "×";
    }
}

/* "backlash 0.217 mm, contact ratio 1.33", or why the pair does not run. */
static char *
words_of (const TrammelMesh *mesh, gboolean internal, const TrammelUnit *unit)
{
  g_autofree char *backlash = length (mesh->backlash, unit);
  g_autofree char *ratio = trammel_display_number (mesh->contact_ratio, 2);

  if (mesh->state != TRAMMEL_MESH_RUNS)
    return g_strdup (trammel_mesh_to_words (mesh, internal));
  g_autofree char *numbers = g_strdup_printf (_ ("backlash %s, contact ratio %s"), backlash, ratio);
  if (!mesh->fouls && mesh->true_contact_ratio >= 1)
    return g_steal_pointer (&numbers);
  return g_strdup_printf ("%s; %s", numbers, trammel_mesh_to_words (mesh, internal));
}

static void
show_row (GtkListBox *list, int i, gsize index, const TrammelMeshOffset *offset, gboolean internal,
          const TrammelUnit *unit)
{
  Row *row = row_at (list, i);
  const double factor = trammel_unit_factor (unit);
  g_autofree char *dx = trammel_display_significant (offset->dx / factor, 6);
  g_autofree char *dy = trammel_display_significant (offset->dy / factor, 6);
  g_autofree char *distance = length (offset->mesh.distance, unit);
  g_autofree char *place = g_strdup_printf (_ ("%s × %s %s: %s apart"), dx, dy, trammel_unit_symbol (unit), distance);
  g_autofree char *words = words_of (&offset->mesh, internal, unit);
  GtkWidget *widget = GTK_WIDGET (gtk_list_box_get_row_at_index (list, i));

  row->offset = index;
  trammel_rewrite_label (row->mark, mark_of (&offset->mesh));
  trammel_rewrite_label (row->place, place);
  trammel_rewrite_label (row->words, words);
  g_autofree char *name = g_strdup_printf ("%s, %s", place, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (widget), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_widget_set_visible (widget, TRUE);
}

gsize
trammel_mesh_rows_show (GtkListBox *list, const TrammelStageGears *gears, const TrammelMeshOffset *offsets, gsize n,
                        const TrammelUnit *unit)
{
  gsize first, end, running = 0;
  int shown = 0;

  trammel_mesh_grid_worth_knowing (offsets, n, gears->distance, &first, &end);
  for (gsize i = first; i < end; i++)
    {
      running += offsets[i].mesh.state == TRAMMEL_MESH_RUNS;
      if (shown == MOST_ROWS)
        continue;
      if (!row_at (list, shown))
        add_row (list);
      show_row (list, shown++, i, &offsets[i], gears->pair.b.internal, unit);
    }
  for (int i = shown; row_at (list, i); i++)
    gtk_widget_set_visible (GTK_WIDGET (gtk_list_box_get_row_at_index (list, i)), FALSE);
  return running;
}

gsize
trammel_mesh_rows_offset (GtkListBoxRow *row)
{
  const Row *own = g_object_get_data (G_OBJECT (row), "trammel-row");
  g_return_val_if_fail (own != NULL, 0);

  return own->offset;
}

GtkListBoxRow *
trammel_mesh_rows_find (GtkListBox *list, gsize offset)
{
  const Row *row;
  for (int i = 0; (row = row_at (list, i)) != NULL; i++)
    {
      GtkListBoxRow *widget = gtk_list_box_get_row_at_index (list, i);
      if (row->offset == offset && gtk_widget_get_visible (GTK_WIDGET (widget)))
        return widget;
    }
  return NULL;
}
