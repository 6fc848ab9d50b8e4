/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/mesh-facts.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "window/rewrite.h"

static void
append_warning (GString *text, const TrammelGear *gear)
{
  if (trammel_gear_is_undercut (*gear))
    {
      g_autofree char *shift = trammel_display_number (trammel_gear_undercut_shift (gear->teeth, gear->angle), 2);
      g_string_append (text, text->len > 0 ? "\n" : "");
      g_string_append_printf (text,
                              _ ("%d teeth are undercut when a rack cuts them: weaker, with less contact. A profile "
                                 "shift of %s would cure it."),
                              gear->teeth, shift);
    }
  if (trammel_gear_is_pointed (*gear))
    {
      g_string_append (text, text->len > 0 ? "\n" : "");
      g_string_append_printf (text, _ ("The %d teeth come to a point below their tip circle."), gear->teeth);
    }
}

char *
trammel_mesh_warnings (const TrammelStageGears *mesh)
{
  GString *text = g_string_new (NULL);
  append_warning (text, &mesh->pair.a);
  append_warning (text, &mesh->pair.b);
  return g_string_free (text, text->len == 0);
}

static void
write_cell (GtkGrid *grid, int column, int row, const char *text, const char *class)
{
  GtkWidget *label = gtk_grid_get_child_at (grid, column, row);
  if (!label)
    {
      label = gtk_label_new (NULL);
      gtk_label_set_xalign (GTK_LABEL (label), column == 0 ? 0 : 1);
      gtk_widget_add_css_class (label, class);
      gtk_grid_attach (grid, label, column, row, 1, 1);
    }
  trammel_rewrite_label (GTK_LABEL (label), text);
}

/* Gear @i of a stage, from the driver on. */
static char *
gear_name (gsize i, gsize meshes, int teeth)
{
  return g_strdup_printf (i == 0 ? _ ("Driver, %d") : i == meshes ? _ ("Driven, %d") : _ ("Idler, %d"), teeth);
}

void
trammel_mesh_diameters_show (GtkGrid *grid, const TrammelStageGears *mesh, gsize number, gsize meshes,
                             const TrammelUnit *unit)
{
  const int decimals = trammel_unit_factor (unit) == 1 ? 3 : 4;
  const char *const headings[] = { _ ("Diameters"), _ ("reference"), _ ("base"), _ ("tip"), _ ("root") };
  const TrammelGear *gears[]
      = { mesh->driver_is_b ? &mesh->pair.b : &mesh->pair.a, mesh->driver_is_b ? &mesh->pair.a : &mesh->pair.b };

  for (guint i = 0; i < G_N_ELEMENTS (headings); i++)
    write_cell (grid, (int)i, 0, headings[i], "dim-label");
  for (int i = 0; i < 2; i++)
    {
      g_autofree char *name = gear_name (number + i, meshes, gears[i]->teeth);
      const double diameters[] = { trammel_gear_reference_diameter (*gears[i]), trammel_gear_base_diameter (*gears[i]),
                                   trammel_gear_tip_diameter (*gears[i]), trammel_gear_root_diameter (*gears[i]) };
      write_cell (grid, 0, i + 1, name, "facts-name");
      for (guint k = 0; k < G_N_ELEMENTS (diameters); k++)
        {
          g_autofree char *text = trammel_display_number (diameters[k] / trammel_unit_factor (unit), decimals);
          write_cell (grid, (int)k + 1, i + 1, text, "numeric");
        }
    }
}
