/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/main-menu.h"

#include <glib/gi18n.h>

#define MOST_RECENT 10

static gboolean
is_ours (GtkRecentInfo *info)
{
  return g_str_equal (gtk_recent_info_get_mime_type (info), "application/vnd.trammel.machine+json")
         && gtk_recent_info_is_local (info) && gtk_recent_info_exists (info);
}

static int
newest_first (gconstpointer a, gconstpointer b)
{
  return g_date_time_compare (gtk_recent_info_get_modified ((GtkRecentInfo *)b),
                              gtk_recent_info_get_modified ((GtkRecentInfo *)a));
}

static GMenu *
recent_files (void)
{
  GMenu *menu = g_menu_new ();
  g_autolist (GtkRecentInfo) all = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());
  all = g_list_sort (all, newest_first);
  int n = 0;
  for (GList *l = all; l && n < MOST_RECENT; l = l->next)
    if (is_ours (l->data))
      {
        g_autoptr (GMenuItem) item = g_menu_item_new (gtk_recent_info_get_display_name (l->data), NULL);
        g_menu_item_set_action_and_target (item, "win.open-recent", "s", gtk_recent_info_get_uri (l->data));
        g_menu_append_item (menu, item);
        n++;
      }
  if (n == 0)
    g_menu_append (menu, _ ("No machines opened yet"), "win.nothing");
  return menu;
}

static void
append_section (GMenu *menu, GMenu *section)
{
  g_menu_append_section (menu, NULL, G_MENU_MODEL (section));
  g_object_unref (section);
}

static GMenu *
file_section (void)
{
  GMenu *section = g_menu_new ();
  g_autoptr (GMenu) recent = recent_files ();
  g_menu_append (section, _ ("_New machine"), "win.new");
  g_menu_append (section, _ ("Open the _example"), "win.open-example");
  g_menu_append_submenu (section, _ ("Open _recent"), G_MENU_MODEL (recent));
  g_menu_append (section, _ ("Save _as…"), "win.save-as");
  return section;
}

static GMenu *
data_section (void)
{
  GMenu *section = g_menu_new ();
  g_menu_append (section, _ ("Re_name the machine"), "win.edit-name");
  g_menu_append (section, _ ("_Import readings…"), "win.import-readings");
  g_menu_append (section, _ ("_Export…"), "win.export");
  g_menu_append (section, _ ("My _tables…"), "win.show-tables");
  return section;
}

static GMenu *
unit_section (void)
{
  GMenu *section = g_menu_new ();
  g_menu_append (section, _ ("Show _millimetres"), "win.shown-unit::mm");
  g_menu_append (section, _ ("Show in_ches"), "win.shown-unit::in");
  return section;
}

static GMenu *
help_section (void)
{
  GMenu *section = g_menu_new ();
  g_menu_append (section, _ ("_Keyboard shortcuts"), "win.show-shortcuts");
  g_menu_append (section, _ ("A_bout Trammel"), "app.about");
  return section;
}

/* Focus that stays behind in a menu that is gone would swallow every key. */
static gboolean
free_focus (gpointer window)
{
  GtkWidget *focus = gtk_window_get_focus (window);

  if (focus && !gtk_widget_get_mapped (focus))
    gtk_window_set_focus (window, NULL);
  return G_SOURCE_REMOVE;
}

static void
menu_closed (GtkPopover *popover, GtkMenuButton *button)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (button));

  if (GTK_IS_WINDOW (root))
    g_idle_add_full (G_PRIORITY_LOW, free_focus, g_object_ref (root), g_object_unref);
}

static void
make_menu (GtkMenuButton *button, gpointer data)
{
  g_autoptr (GMenu) menu = g_menu_new ();
  append_section (menu, file_section ());
  append_section (menu, data_section ());
  append_section (menu, unit_section ());
  append_section (menu, help_section ());
  gtk_menu_button_set_menu_model (button, G_MENU_MODEL (menu));
  g_signal_connect (gtk_menu_button_get_popover (button), "closed", G_CALLBACK (menu_closed), button);
}

void
trammel_main_menu_attach (GtkMenuButton *button)
{
  g_return_if_fail (GTK_IS_MENU_BUTTON (button));
  gtk_menu_button_set_create_popup_func (button, make_menu, NULL, NULL);
}
