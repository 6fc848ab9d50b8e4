/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be done to blocks and rows of the sheet, from keys, its menu and buttons around it. */
#include "window/sheet-private.h"

#include <glib/gi18n.h>

#include "machine/position-list.h"

static gsize
n_readings (TrammelSheet *self)
{
  return trammel_readings_length (trammel_sheet_readings (self));
}

static void
copy (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelSheet *self = data;
  TrammelBlock block = trammel_sheet_block (self);
  g_autofree char *text = trammel_cells_to_text (trammel_sheet_readings (self), &block, trammel_sheet_unit (self));
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
}

static void
empty_block (TrammelSheet *self, const char *what)
{
  TrammelBlock block = trammel_sheet_block (self);
  if (block.top < n_readings (self))
    trammel_sheet_put (self, trammel_cells_without (trammel_sheet_readings (self), &block), what);
}

static void
clear (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  empty_block (data, _ ("clear cells"));
}

static void
cut (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  copy (action, parameter, data);
  empty_block (data, _ ("cut cells"));
}

static void
put_pasted (TrammelSheet *self, const char *text)
{
  gsize n_lost;
  TrammelBlock block = trammel_sheet_block (self);
  /* Nothing but numbers where words are wanted: what an indicator's list looks like */
  if (block.left <= TRAMMEL_COLUMN_ALONG && trammel_position_list_is_likely (text))
    {
      trammel_sheet_pass_list_on (self, text);
      return;
    }
  const gboolean is_column = block.left <= TRAMMEL_COLUMN_MEASURED && trammel_cells_is_column_of_numbers (text);
  if (is_column && block.left <= TRAMMEL_COLUMN_ALONG)
    block.left = block.right = TRAMMEL_COLUMN_MEASURED;
  TrammelReadings *readings
      = trammel_cells_paste (trammel_sheet_readings (self), text, trammel_sheet_unit (self), &block, &n_lost);
  if (!readings)
    {
      trammel_sheet_tell (self, g_strdup (_ ("There is nothing to paste.")), FALSE);
      return;
    }
  trammel_sheet_put (self, readings, _ ("paste readings"));
  trammel_sheet_select (self, &block);
  if (is_column)
    trammel_sheet_tell_of_column (self, &block);
  if (n_lost > 0)
    trammel_sheet_tell (self,
                        g_strdup_printf (ngettext ("%d pasted column lies beyond the sheet and was left out.",
                                                   "%d pasted columns lie beyond the sheet and were left out.", n_lost),
                                         (int)n_lost),
                        TRUE);
}

static void
clipboard_read (GObject *clipboard, GAsyncResult *result, gpointer data)
{
  g_autoptr (TrammelSheet) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (clipboard), result, &error);
  if (!self->session)
    return;
  if (text)
    put_pasted (self, text);
  else
    trammel_sheet_tell (self, g_strdup (_ ("There is no text to paste.")), FALSE);
}

static void
paste (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelSheet *self = data;
  trammel_sheet_commit (self);
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (self)), NULL, clipboard_read,
                                 g_object_ref (self));
}

static void
insert_row (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelSheet *self = data;
  trammel_sheet_commit (self);
  TrammelBlock block = trammel_sheet_block (self);
  if (block.top >= n_readings (self))
    return;
  gsize n = MIN (block.bottom, n_readings (self) - 1) - block.top + 1;
  trammel_sheet_put (self, trammel_cells_with_rows (trammel_sheet_readings (self), block.top, n), _ ("insert rows"));
  trammel_sheet_go_to (self, (int)block.top, 0);
}

/* The empty row is there already. */
static void
append_row (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelSheet *self = data;
  trammel_sheet_go_to (self, trammel_sheet_n_rows (self) - 1, 0);
}

static void
delete_rows (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelSheet *self = data;
  trammel_sheet_commit (self);
  TrammelBlock block = trammel_sheet_block (self);
  if (block.top >= n_readings (self))
    return;
  int column = self->cursor.column;
  gsize n = block.bottom - block.top + 1;
  trammel_sheet_put (self, trammel_cells_without_rows (trammel_sheet_readings (self), block.top, n),
                     n == 1 ? _ ("delete a row") : _ ("delete rows"));
  trammel_sheet_go_to (self, (int)block.top, column);
}

static void
choose (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  trammel_sheet_open_choices (data);
}

void
trammel_sheet_add_actions (TrammelSheet *self)
{
  static const GActionEntry entries[] = {
    { .name = "copy", .activate = copy },
    { .name = "cut", .activate = cut },
    { .name = "paste", .activate = paste },
    { .name = "clear", .activate = clear },
    { .name = "insert-row", .activate = insert_row },
    { .name = "append-row", .activate = append_row },
    { .name = "delete-rows", .activate = delete_rows },
    { .name = "choose", .activate = choose },
  };
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "sheet", G_ACTION_GROUP (self->actions));
}

static void
append_item (GMenu *menu, const char *label, const char *action, const char *accelerator)
{
  g_autoptr (GMenuItem) item = g_menu_item_new (label, action);
  g_menu_item_set_attribute (item, "accel", "s", accelerator);
  g_menu_append_item (menu, item);
}

static GMenuModel *
menu_model (void)
{
  GMenu *menu = g_menu_new ();
  g_autoptr (GMenu) cells = g_menu_new ();
  g_autoptr (GMenu) rows = g_menu_new ();
  append_item (cells, _ ("Cu_t"), "sheet.cut", "<Control>x");
  append_item (cells, _ ("_Copy"), "sheet.copy", "<Control>c");
  append_item (cells, _ ("_Paste"), "sheet.paste", "<Control>v");
  append_item (cells, _ ("C_lear"), "sheet.clear", "Delete");
  append_item (cells, _ ("Choo_se…"), "sheet.choose", "<Alt>Down");
  append_item (rows, _ ("_Insert rows above"), "sheet.insert-row", "<Control>plus");
  append_item (rows, _ ("_Delete rows"), "sheet.delete-rows", "<Control>minus");
  g_menu_append_section (menu, NULL, G_MENU_MODEL (cells));
  g_menu_append_section (menu, NULL, G_MENU_MODEL (rows));
  return G_MENU_MODEL (menu);
}

void
trammel_sheet_open_menu (TrammelSheet *self, double x, double y)
{
  if (!self->menu)
    {
      g_autoptr (GMenuModel) model = menu_model ();
      self->menu = gtk_popover_menu_new_from_model (model);
      gtk_popover_set_has_arrow (GTK_POPOVER (self->menu), FALSE);
      gtk_widget_set_halign (self->menu, GTK_ALIGN_START);
      gtk_widget_set_parent (self->menu, GTK_WIDGET (self));
    }
  graphene_rect_t cell = trammel_sheet_cell_bounds (self, self->cursor.row, self->cursor.column);
  GdkRectangle place = { .x = (int)(x < 0 ? cell.origin.x : x),
                         .y = (int)(y < 0 ? cell.origin.y + cell.size.height : y),
                         .width = 1,
                         .height = 1 };
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu), &place);
  gtk_popover_popup (GTK_POPOVER (self->menu));
}
