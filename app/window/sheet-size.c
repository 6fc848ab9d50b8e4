/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where everything on the sheet is. */
#include "window/sheet-private.h"

#include <math.h>

#define MARK_OF_LIST 12 /* pixels */

/* In digits of the font; the note takes what is left over */
static const int column_digits[TRAMMEL_SHEET_N_COLUMNS] = {
  [TRAMMEL_COLUMN_KIND] = 8,     [TRAMMEL_COLUMN_ALONG] = 6,   [TRAMMEL_COLUMN_NOMINAL] = 9,
  [TRAMMEL_COLUMN_MEASURED] = 9, [TRAMMEL_COLUMN_U] = 6,       [TRAMMEL_COLUMN_INSTRUMENT] = 11,
  [TRAMMEL_COLUMN_APPROACH] = 8, [TRAMMEL_COLUMN_RUN] = 4,     [TRAMMEL_COLUMN_SET] = 4,
  [TRAMMEL_COLUMN_NOTE] = 12,    [TRAMMEL_SHEET_RESIDUAL] = 8,
};

static int
text_width (TrammelSheet *self, const char *text, int *height)
{
  int width;
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  pango_layout_get_pixel_size (layout, &width, height);
  return width;
}

/* Every kind whole, with the mark of the list beside it. */
static int
widest_kind (TrammelSheet *self)
{
  int widest = 0;
  for (int kind = 0; kind < TRAMMEL_N_READING_KINDS; kind++)
    widest = MAX (widest, text_width (self, trammel_reading_kind_label ((TrammelReadingKind)kind), NULL));
  return widest + MARK_OF_LIST;
}

void
trammel_sheet_measure_font (TrammelSheet *self)
{
  int height;
  int unit = text_width (self, "mm", NULL) + 6;
  self->digit_width = text_width (self, "0000000000", &height) / 10.0;
  self->sign_width = text_width (self, "0.0", NULL) - 2 * self->digit_width;
  self->row_height = height + 10;
  self->header_height = height + 14;
  for (int i = 0; i < TRAMMEL_SHEET_N_COLUMNS; i++)
    {
      gboolean has_unit = i == TRAMMEL_SHEET_RESIDUAL || (trammel_cell_is_numeric (i) && i != TRAMMEL_COLUMN_RUN);
      int title = text_width (self, trammel_sheet_column_title (i), NULL) + (has_unit ? unit : 0);
      int least = MAX ((int)ceil (column_digits[i] * self->digit_width), title);
      self->widths[i] = MAX (least, i == TRAMMEL_COLUMN_KIND ? widest_kind (self) : 0) + 2 * TRAMMEL_SHEET_PADDING;
    }
}

static void
place_columns (TrammelSheet *self, int width)
{
  g_autofree char *last = g_strdup_printf ("%d", MAX (trammel_sheet_n_rows (self), 100));
  self->number_width = text_width (self, last, NULL) + 2 * TRAMMEL_SHEET_PADDING;

  int total = 0;
  for (int i = 0; i < TRAMMEL_SHEET_N_COLUMNS; i++)
    total += self->widths[i];
  int spare = MAX (width - self->number_width - total, 0);
  self->starts[0] = 0;
  for (int i = 0; i < TRAMMEL_N_COLUMNS; i++)
    self->starts[i + 1] = self->starts[i] + self->widths[i] + (i == TRAMMEL_COLUMN_NOTE ? spare : 0);
}

graphene_rect_t
trammel_sheet_cell_bounds (TrammelSheet *self, int row, int column)
{
  double y = self->header_height + (double)row * self->row_height - gtk_adjustment_get_value (self->vertical);
  if (column == TRAMMEL_SHEET_RESIDUAL)
    return GRAPHENE_RECT_INIT ((float)(gtk_widget_get_width (GTK_WIDGET (self)) - self->widths[column]),
                               (float)floor (y), (float)self->widths[column], (float)self->row_height);

  double x = self->number_width + self->starts[column] - gtk_adjustment_get_value (self->horizontal);
  return GRAPHENE_RECT_INIT ((float)floor (x), (float)floor (y),
                             (float)(self->starts[column + 1] - self->starts[column]), (float)self->row_height);
}

static void
bring_into_sight (GtkAdjustment *adjustment, double low, double high)
{
  double value = gtk_adjustment_get_value (adjustment);
  double page = gtk_adjustment_get_page_size (adjustment);
  if (page <= 0)
    return;
  if (high > value + page)
    value = high - page;
  if (low < value)
    value = low;
  gtk_adjustment_set_value (adjustment, value);
}

void
trammel_sheet_bring_into_sight (TrammelSheet *self)
{
  int column = self->cursor.column;
  bring_into_sight (self->vertical, (double)self->cursor.row * self->row_height,
                    (double)(self->cursor.row + 1) * self->row_height);
  bring_into_sight (self->horizontal, self->starts[column], self->starts[column + 1]);
}

static void
configure (GtkAdjustment *adjustment, double upper, double page, double step)
{
  double value = CLAMP (gtk_adjustment_get_value (adjustment), 0, MAX (upper - page, 0));
  gtk_adjustment_configure (adjustment, value, 0, MAX (upper, page), step, page * 0.9, page);
}

static void
configure_adjustments (TrammelSheet *self, int width, int height)
{
  configure (self->horizontal, self->starts[TRAMMEL_N_COLUMNS],
             MAX (width - self->number_width - self->widths[TRAMMEL_SHEET_RESIDUAL], 1), 4 * self->digit_width);
  configure (self->vertical, (double)trammel_sheet_n_rows (self) * self->row_height,
             MAX (height - self->header_height, 1), 3 * self->row_height);
}

/* Numbers stand to the right; GtkText sets its own text, so it gets the cell without the padding. */
static void
place_entry (TrammelSheet *self)
{
  graphene_rect_t cell = trammel_sheet_cell_bounds (self, self->cursor.row, self->cursor.column);
  int natural;
  gtk_widget_measure (GTK_WIDGET (self->text), GTK_ORIENTATION_VERTICAL, -1, NULL, &natural, NULL, NULL);
  GtkAllocation place = { .x = (int)cell.origin.x + TRAMMEL_SHEET_PADDING,
                          .y = (int)cell.origin.y + (self->row_height - natural) / 2,
                          .width = (int)cell.size.width - 2 * TRAMMEL_SHEET_PADDING,
                          .height = natural };
  gtk_widget_size_allocate (GTK_WIDGET (self->text), &place, -1);
}

void
trammel_sheet_allocate (TrammelSheet *self, int width, int height)
{
  gboolean shorter = height < self->allocated_height;
  place_columns (self, width);
  configure_adjustments (self, width, height);
  if (shorter && gtk_widget_has_focus (GTK_WIDGET (self->text)))
    trammel_sheet_bring_into_sight (self);
  self->allocated_height = height;
  place_entry (self);
  if (self->choices)
    gtk_popover_present (GTK_POPOVER (self->choices));
  if (self->menu)
    gtk_popover_present (GTK_POPOVER (self->menu));
}

void
trammel_sheet_request (TrammelSheet *self, GtkOrientation orientation, int *minimum, int *natural)
{
  if (orientation == GTK_ORIENTATION_VERTICAL)
    {
      *minimum = self->header_height + 3 * self->row_height;
      *natural = self->header_height + CLAMP (trammel_sheet_n_rows (self), 3, 20) * self->row_height;
      return;
    }
  *minimum = 240;
  *natural = self->number_width;
  for (int i = 0; i < TRAMMEL_SHEET_N_COLUMNS; i++)
    *natural += self->widths[i];
}
