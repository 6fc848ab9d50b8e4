/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pointer on the sheet: selecting, editing, tooltips. */
#include "window/sheet-private.h"

#include <glib/gi18n.h>

/* Row −1: the titles; column −1: the numbers of the rows. Beyond the last, the last. */
static TrammelSheetCell
cell_at (TrammelSheet *self, double x, double y)
{
  TrammelSheetCell cell = { -1, -1 };
  if (y >= self->header_height)
    cell.row = (int)((y - self->header_height + gtk_adjustment_get_value (self->vertical)) / self->row_height);
  cell.row = MIN (cell.row, trammel_sheet_n_rows (self) - 1);

  double along = x - self->number_width + gtk_adjustment_get_value (self->horizontal);
  if (x < self->number_width)
    return cell;
  if (x >= gtk_widget_get_width (GTK_WIDGET (self)) - self->widths[TRAMMEL_SHEET_RESIDUAL])
    {
      cell.column = TRAMMEL_SHEET_RESIDUAL;
      return cell;
    }
  for (cell.column = 0; cell.column < TRAMMEL_N_COLUMNS - 1; cell.column++)
    if (along < self->starts[cell.column + 1])
      break;
  return cell;
}

static void
select_rows (TrammelSheet *self, int from, int to)
{
  self->anchor = (TrammelSheetCell){ from, TRAMMEL_N_COLUMNS - 1 };
  trammel_sheet_move_to (self, to, 0, TRUE);
}

static void
select_column (TrammelSheet *self, int column)
{
  self->anchor = (TrammelSheetCell){ MAX (trammel_sheet_n_rows (self) - 2, 0), column };
  trammel_sheet_move_to (self, 0, column, TRUE);
}

/* The small arrow that the current cell of a column with choices has. */
static gboolean
is_on_arrow (TrammelSheet *self, TrammelSheetCell cell, double x)
{
  if (cell.row != self->cursor.row || cell.column != self->cursor.column || !trammel_sheet_has_choices (cell.column))
    return FALSE;
  graphene_rect_t bounds = trammel_sheet_cell_bounds (self, cell.row, cell.column);
  return x > bounds.origin.x + bounds.size.width - 20;
}

static void
pressed (GtkGestureClick *gesture, int n, double x, double y, TrammelSheet *self)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  gboolean extend = (state & GDK_SHIFT_MASK) != 0;
  TrammelSheetCell cell = cell_at (self, x, y);

  trammel_sheet_commit (self);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  self->tab_column = -1;

  if (cell.row < 0 && cell.column < 0)
    trammel_sheet_select_everything (self);
  else if (cell.row < 0)
    select_column (self, MIN (cell.column, TRAMMEL_N_COLUMNS - 1));
  else if (cell.column < 0 || cell.column == TRAMMEL_SHEET_RESIDUAL)
    select_rows (self, extend ? self->anchor.row : cell.row, cell.row);
  else if (!extend && is_on_arrow (self, cell, x))
    trammel_sheet_open_choices (self);
  else if (n == 2)
    trammel_sheet_begin_editing (self);
  else
    trammel_sheet_move_to (self, cell.row, cell.column, extend);
}

static void
menu_pressed (GtkGestureClick *gesture, int n, double x, double y, TrammelSheet *self)
{
  TrammelSheetCell cell = cell_at (self, x, y);
  TrammelBlock block = trammel_sheet_block (self);
  gboolean inside = cell.row >= (int)block.top && cell.row <= (int)block.bottom && cell.column >= block.left
                    && cell.column <= block.right;

  trammel_sheet_commit (self);
  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (!inside && cell.row >= 0 && cell.column >= 0)
    trammel_sheet_move_to (self, cell.row, cell.column, FALSE);
  else if (!inside && cell.row >= 0)
    select_rows (self, cell.row, cell.row);
  trammel_sheet_open_menu (self, x, y);
}

static void
dragged (GtkGestureDrag *gesture, double offset_x, double offset_y, TrammelSheet *self)
{
  double x, y;
  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  TrammelSheetCell start = cell_at (self, x, y), end = cell_at (self, x + offset_x, y + offset_y);
  if (start.row < 0 || self->mode != TRAMMEL_SHEET_MOVING)
    return;
  if (start.column < 0 && end.row >= 0 && end.row != self->cursor.row)
    select_rows (self, start.row, end.row);
  else if (start.column >= 0 && (end.row != self->cursor.row || end.column != self->cursor.column))
    trammel_sheet_move_to (self, MAX (end.row, 0), MAX (end.column, 0), TRUE);
}

static const char *
meaning_of_column (int column)
{
  switch (column)
    {
    case TRAMMEL_COLUMN_KIND:
      return _ ("What was measured: over two outer faces, between two inner faces, like face to like face, up from the "
                "bed; or without a print: a travel, a position or where a home ended");
    case TRAMMEL_COLUMN_ALONG:
      return _ ("The axis or diagonal it was measured along: X, X+Y, X-Y, XY@30");
    case TRAMMEL_COLUMN_NOMINAL:
      return _ ("What was commanded; of a home the place where the switch should fire, or nothing");
    case TRAMMEL_COLUMN_MEASURED:
      return _ ("What the instrument shows");
    case TRAMMEL_COLUMN_U:
      return _ ("Standard uncertainty of this reading; empty: that of the instrument");
    case TRAMMEL_COLUMN_INSTRUMENT:
      return _ ("What it was measured with; its uncertainty is set under Instruments");
    case TRAMMEL_COLUMN_APPROACH:
      return _ (
          "A position or a home: + when approached moving up, - moving down. A travel: reversed when the direction was "
          "changed before it");
    case TRAMMEL_COLUMN_RUN:
      return _ ("Number of the run, when the same places are measured several times");
    case TRAMMEL_COLUMN_SET:
      return _ ("Positions of one set share a datum. Homes: how the switch was approached, such as fast or "
                "two-speed");
    case TRAMMEL_COLUMN_NOTE:
      return _ ("Anything worth remembering");
    default:
      return _ ("Measured less what the adjustment expects");
    }
}

static gboolean
show_tooltip (TrammelSheet *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  TrammelSheetCell cell = keyboard ? self->cursor : cell_at (self, x, y);
  g_autofree char *text = NULL;

  if (cell.row < 0)
    text = cell.column >= 0 ? g_strdup (meaning_of_column (cell.column)) : NULL;
  else if (cell.column == TRAMMEL_SHEET_RESIDUAL)
    text = trammel_sheet_suspicion_of (self, cell.row);
  else
    text = trammel_sheet_trouble_of (self, cell.row, cell.column);
  if (!text)
    return FALSE;

  graphene_rect_t bounds = trammel_sheet_cell_bounds (self, MAX (cell.row, 0), cell.column >= 0 ? cell.column : 0);
  GdkRectangle area = { .x = cell.column >= 0 ? (int)bounds.origin.x : 0,
                        .y = cell.row >= 0 ? (int)bounds.origin.y : 0,
                        .width = cell.column >= 0 ? (int)bounds.size.width : self->number_width,
                        .height = cell.row >= 0 ? self->row_height : self->header_height };
  gtk_tooltip_set_text (tooltip, text);
  gtk_tooltip_set_tip_area (tooltip, &area);
  return TRUE;
}

void
trammel_sheet_watch_pointer (TrammelSheet *self)
{
  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", G_CALLBACK (pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));

  GtkGesture *second = gtk_gesture_click_new ();
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (second), GDK_BUTTON_SECONDARY);
  g_signal_connect (second, "pressed", G_CALLBACK (menu_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (second));

  GtkGesture *drag = gtk_gesture_drag_new ();
  g_signal_connect (drag, "drag-update", G_CALLBACK (dragged), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drag));

  g_signal_connect (self, "query-tooltip", G_CALLBACK (show_tooltip), NULL);
}
