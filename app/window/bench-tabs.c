/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/bench-tabs.h"

#include <glib/gi18n.h>

#include "window/finder-panel.h"
#include "window/mesh-panel.h"
#include "window/limits-panel.h"
#include "window/load-panel.h"
#include "window/play-panel.h"
#include "window/rewrite.h"

typedef struct
{
  const char *name;    /* for actions and tests: "load" */
  const char *title;   /* N_(): on its tab */
  const char *meaning; /* N_(): one line, as the tab's tooltip */
  GtkWidget *(*create) (TrammelSession *session);
} Panel;

/* In the order of the tabs. */
/* clang-format off */
static const Panel panels[] = {
  { "load", N_ ("Load"), N_ ("What the axis has to move, and whether its motor can"), trammel_load_panel_new },
  { "limits", N_ ("Limits"), N_ ("How fast and how finely it goes, what screws and belts can bear"), trammel_limits_panel_new },
  { "play", N_ ("Play"), N_ ("Where the play at the carriage comes from"), trammel_play_panel_new },
  { "find", N_ ("Find gears"), N_ ("Which gears of your bin make what this axis should do"), trammel_finder_panel_new },
  { "mesh", N_ ("Meshing"), N_ ("How a pair of gears meshes, and in which holes of a plate it runs"),
    trammel_mesh_panel_new },
};
/* clang-format on */

static void
add_tab (GtkBox *tabs, const char *name, const char *title, const char *meaning)
{
  GtkWidget *tab = gtk_toggle_button_new_with_label (title);

  gtk_widget_add_css_class (tab, "tab");
  trammel_rewrite_tooltip (tab, meaning);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (tab), "bench.show");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (tab), "s", name);
  gtk_box_append (tabs, tab);
}

static GtkWidget *
empty_slot (const char *title)
{
  GtkWidget *scroll = g_object_new (GTK_TYPE_SCROLLED_WINDOW, "accessible-role", GTK_ACCESSIBLE_ROLE_TAB_PANEL, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (scroll), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);

  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scroll), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scroll), 480);
  return scroll;
}

/* A panel is made when it is first looked at: the window opens without them. */
static void
fill_visible_slot (GtkStack *stack, GParamSpec *pspec, TrammelSession *session)
{
  const char *name = gtk_stack_get_visible_child_name (stack);

  for (gsize i = 0; i < G_N_ELEMENTS (panels); i++)
    {
      GtkScrolledWindow *slot = GTK_SCROLLED_WINDOW (gtk_stack_get_child_by_name (stack, panels[i].name));
      if (g_strcmp0 (panels[i].name, name) == 0 && !gtk_scrolled_window_get_child (slot))
        gtk_scrolled_window_set_child (slot, panels[i].create (session));
    }
}

void
trammel_bench_tabs_fill (GtkStack *stack, GtkBox *tabs, TrammelSession *session)
{
  g_return_if_fail (GTK_IS_STACK (stack) && GTK_IS_BOX (tabs) && TRAMMEL_IS_SESSION (session));

  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();
  g_autoptr (GPropertyAction) show = g_property_action_new ("show", stack, "visible-child-name");
  g_action_map_add_action (G_ACTION_MAP (group), G_ACTION (show));
  gtk_widget_insert_action_group (GTK_WIDGET (tabs), "bench", G_ACTION_GROUP (group));

  add_tab (tabs, "parts", _ ("Parts"), _ ("Motor, stages and output, in the order the motion flows"));
  for (gsize i = 0; i < G_N_ELEMENTS (panels); i++)
    {
      gtk_stack_add_named (stack, empty_slot (_ (panels[i].title)), panels[i].name);
      add_tab (tabs, panels[i].name, _ (panels[i].title), _ (panels[i].meaning));
    }
  g_signal_connect_object (stack, "notify::visible-child-name", G_CALLBACK (fill_visible_slot), session, 0);
}
