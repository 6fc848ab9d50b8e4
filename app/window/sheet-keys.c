/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The keys of the sheet. They come here before the text over the cell sees them. */
#include "window/sheet-private.h"

static void
go (TrammelSheet *self, int row, int column, gboolean extend)
{
  trammel_sheet_commit (self);
  self->tab_column = -1;
  trammel_sheet_move_to (self, row, column, extend);
}

static int
rows_per_page (TrammelSheet *self)
{
  return MAX ((int)(gtk_adjustment_get_page_size (self->vertical) / self->row_height) - 1, 1);
}

static int
last_row (TrammelSheet *self)
{
  return trammel_sheet_n_rows (self) - 1;
}

/* Arrow keys and their kin. FALSE: not one of them. */
static gboolean
move_by_key (TrammelSheet *self, guint key, gboolean control, gboolean extend)
{
  int row = self->cursor.row, column = self->cursor.column;
  switch (key)
    {
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      go (self, control ? 0 : row - 1, column, extend);
      return TRUE;
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      go (self, control ? last_row (self) : row + 1, column, extend);
      return TRUE;
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      go (self, row, control ? 0 : column - 1, extend);
      return TRUE;
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      go (self, row, control ? TRAMMEL_N_COLUMNS - 1 : column + 1, extend);
      return TRUE;
    case GDK_KEY_Home:
    case GDK_KEY_KP_Home:
      go (self, control ? 0 : row, 0, extend);
      return TRUE;
    case GDK_KEY_End:
    case GDK_KEY_KP_End:
      go (self, control ? last_row (self) : row, TRAMMEL_N_COLUMNS - 1, extend);
      return TRUE;
    case GDK_KEY_Page_Up:
    case GDK_KEY_KP_Page_Up:
      go (self, row - rows_per_page (self), column, extend);
      return TRUE;
    case GDK_KEY_Page_Down:
    case GDK_KEY_KP_Page_Down:
      go (self, row + rows_per_page (self), column, extend);
      return TRUE;
    default:
      return FALSE;
    }
}

/* While text is changed, these move in it. */
static gboolean
is_for_the_text (TrammelSheet *self, guint key)
{
  if (self->mode != TRAMMEL_SHEET_EDITING)
    return FALSE;
  return key == GDK_KEY_Left || key == GDK_KEY_KP_Left || key == GDK_KEY_Right || key == GDK_KEY_KP_Right
         || key == GDK_KEY_Home || key == GDK_KEY_KP_Home || key == GDK_KEY_End || key == GDK_KEY_KP_End;
}

/* Tab goes to the right and on to the next row, Enter then returns to where the run of Tab began. */
static void
tab (TrammelSheet *self, gboolean back)
{
  int origin = self->tab_column >= 0 ? self->tab_column : self->cursor.column;
  int place = self->cursor.row * TRAMMEL_N_COLUMNS + self->cursor.column;
  place = MAX (place + (back ? -1 : 1), 0);

  trammel_sheet_commit (self);
  trammel_sheet_move_to (self, place / TRAMMEL_N_COLUMNS, place % TRAMMEL_N_COLUMNS, FALSE);
  self->tab_column = MIN (origin, self->cursor.column);
}

static void
enter (TrammelSheet *self, gboolean up)
{
  int column = self->tab_column >= 0 ? self->tab_column : self->cursor.column;
  go (self, self->cursor.row + (up ? -1 : 1), column, FALSE);
}

static gboolean
escape (TrammelSheet *self)
{
  if (self->mode != TRAMMEL_SHEET_MOVING)
    {
      trammel_sheet_fill_entry (self);
      return TRUE;
    }
  if (!trammel_sheet_has_block (self))
    return FALSE;
  go (self, self->cursor.row, self->cursor.column, FALSE);
  return TRUE;
}

static gboolean
run (TrammelSheet *self, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (self->actions), action, NULL);
  return TRUE;
}

static gboolean
control_key (TrammelSheet *self, guint key)
{
  switch (gdk_keyval_to_lower (key))
    {
    case GDK_KEY_c:
    case GDK_KEY_Insert:
      return run (self, "copy");
    case GDK_KEY_x:
      return run (self, "cut");
    case GDK_KEY_v:
      return run (self, "paste");
    case GDK_KEY_a:
      trammel_sheet_select_everything (self);
      return TRUE;
    case GDK_KEY_plus:
    case GDK_KEY_equal:
    case GDK_KEY_KP_Add:
      return run (self, "insert-row");
    case GDK_KEY_minus:
    case GDK_KEY_KP_Subtract:
      return run (self, "delete-rows");
    default:
      return FALSE;
    }
}

/* Keys that mean the same whether something is being typed or not. */
static gboolean
common_key (TrammelSheet *self, guint key, gboolean shift, gboolean alt)
{
  switch (key)
    {
    case GDK_KEY_Tab:
    case GDK_KEY_KP_Tab:
    case GDK_KEY_ISO_Left_Tab:
      tab (self, shift || key == GDK_KEY_ISO_Left_Tab);
      return TRUE;
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
    case GDK_KEY_ISO_Enter:
      enter (self, shift);
      return TRUE;
    case GDK_KEY_Escape:
      return escape (self);
    case GDK_KEY_F2:
      trammel_sheet_begin_editing (self);
      return TRUE;
    case GDK_KEY_Down:
      return alt ? run (self, "choose") : FALSE;
    default:
      return FALSE;
    }
}

static gboolean
moving_key (TrammelSheet *self, guint key, gboolean shift)
{
  switch (key)
    {
    case GDK_KEY_Delete:
    case GDK_KEY_KP_Delete:
      return run (self, shift ? "cut" : "clear");
    case GDK_KEY_BackSpace:
      trammel_sheet_begin_entering (self);
      return TRUE;
    case GDK_KEY_Insert:
      return shift ? run (self, "paste") : FALSE;
    case GDK_KEY_Menu:
    case GDK_KEY_F10:
      if (key == GDK_KEY_F10 && !shift)
        return FALSE;
      trammel_sheet_open_menu (self, -1, -1);
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, TrammelSheet *self)
{
  gboolean control = (state & GDK_CONTROL_MASK) != 0, shift = (state & GDK_SHIFT_MASK) != 0;
  gboolean alt = (state & GDK_ALT_MASK) != 0;
  gboolean moving = self->mode == TRAMMEL_SHEET_MOVING;

  if (self->composing)
    return FALSE;
  /* Ctrl and Tab leave the sheet */
  if (!control && common_key (self, key, shift, alt))
    return TRUE;
  if (alt || is_for_the_text (self, key))
    return FALSE;
  if (moving && control && control_key (self, key))
    return TRUE;
  if (moving && !control && moving_key (self, key, shift))
    return TRUE;
  /* With Shift or Ctrl, the arrows select in what is being typed */
  if (!moving && (control || shift))
    return FALSE;
  return move_by_key (self, key, control, shift);
}

void
trammel_sheet_watch_keys (TrammelSheet *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self->text), keys);
}
