/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"
#include "measure/reading.h"

G_BEGIN_DECLS

/* What the sheet does to readings, without the sheet: cells as people see and type them, and blocks of cells that go
 * to and come from a clipboard. Every change makes new readings. A unit is that of the display, mm or in. */

/* Rows and columns of a block, both ends included. */
typedef struct
{
  gsize top, bottom;
  int left, right;
} TrammelBlock;

/* TRUE for columns that hold numbers: set to the right, with the decimal sign of the locale. */
gboolean trammel_cell_is_numeric (TrammelColumn column);

/* (transfer full): the cell as shown: translated kind, decimal sign of the locale, a real minus; "" when empty. */
char *trammel_cell_to_show (const TrammelReading *reading, TrammelColumn column, const TrammelUnit *unit);
/* (transfer full): the cell to edit: as shown, but such as trammel_cell_set() reads it on any keyboard. */
char *trammel_cell_to_edit (const TrammelReading *reading, TrammelColumn column, const TrammelUnit *unit);
/* As trammel_reading_set_text(), and the minus of typesetting is read too. */
gboolean trammel_cell_set (TrammelReading *reading, TrammelColumn column, const char *text, const TrammelUnit *unit,
                           GError **error);

/* (transfer full) (nullable): why the cell cannot be read. */
char *trammel_cell_trouble (const TrammelReading *reading, TrammelColumn column, const TrammelUnit *unit);
/* (transfer full) (nullable): why the complete row cannot be used. */
char *trammel_row_trouble (const TrammelReading *reading);

/* A row that a person begins below the last one: of the kind and by the instrument of that one; below a home, along
 * the same axis, by the same approach and of the same set. */
void trammel_row_begin (const TrammelReadings *readings, TrammelReading *row);

/* The cell set to @text; @row may be the one after the last. (transfer full) */
TrammelReadings *trammel_cells_with_text (const TrammelReadings *readings, gsize row, TrammelColumn column,
                                          const char *text, const TrammelUnit *unit);
/* The cells of @block emptied; rows beyond the last are left out. (transfer full) */
TrammelReadings *trammel_cells_without (const TrammelReadings *readings, const TrammelBlock *block);
/* @n empty rows put in before @row; rows @row … @row+@n−1 taken out. (transfer full) */
TrammelReadings *trammel_cells_with_rows (const TrammelReadings *readings, gsize row, gsize n);
TrammelReadings *trammel_cells_without_rows (const TrammelReadings *readings, gsize row, gsize n);

/* (transfer full): the block as spreadsheets copy it: tabs between cells, a line per row. */
char *trammel_cells_to_text (const TrammelReadings *readings, const TrammelBlock *block, const TrammelUnit *unit);

/* TRUE for two lines or more that are a number each: such a column can only be of measured values. */
gboolean trammel_cells_is_column_of_numbers (const char *text);

/**
 * trammel_cells_paste:
 * @text: of a clipboard, as spreadsheets copy it: tabs, any line ends, cells in quotes where they hold such things. A
 *   first line that names columns says which column is which.
 * @block: (inout): in: what is selected: its upper left cell is where the text begins, and a single cell of text fills
 *   it; out: where the text went. Rows beyond the last begin as a person begins them, unless the text has their kind
 * @n_lost: (out): columns of the text that the sheet has no place for
 *
 * Returns: (transfer full) (nullable): NULL when there is nothing to paste.
 */
TrammelReadings *trammel_cells_paste (const TrammelReadings *readings, const char *text, const TrammelUnit *unit,
                                      TrammelBlock *block, gsize *n_lost);

G_END_DECLS
