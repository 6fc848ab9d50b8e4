/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A plain list as people have it on a clipboard: lines of cells, with tabs, semicolons, commas or blanks between them,
 * decimal point or comma. What is between them is told by the lines that begin with a number: a comma between digits is
 * a decimal one where there are blanks, or no points and only one of it on a line. */
typedef struct
{
  GPtrArray *lines; /* of GPtrArray of texts; blank lines and comments (#) left out */
  GArray *numbers;  /* of gsize: where each line was, from 1 */
  char separator;   /* ' ': blanks; a unit then goes with what is before it */
} TrammelListCells;

/* @text: UTF-8, not trusted. Any kind of line end; a typeset minus becomes a plain one. Empty cells at the end of a
 * line are what a spreadsheet adds, and left out. Clear it when done. */
void trammel_list_cells_read (const char *text, TrammelListCells *out);
void trammel_list_cells_clear (TrammelListCells *cells);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TrammelListCells, trammel_list_cells_clear)

/* A digit, perhaps behind a sign; what is behind it may still be wrong. */
gboolean trammel_list_cells_begins_with_number (const char *text);

gsize trammel_list_cells_n_lines (const TrammelListCells *cells);
/* How many cells line @line has. */
gsize trammel_list_cells_length (const TrammelListCells *cells, gsize line);
/* "" where there is none. Borrowed. */
const char *trammel_list_cells_get (const TrammelListCells *cells, gsize line, gsize column);
/* Where line @line was in the text, from 1. */
gsize trammel_list_cells_number (const TrammelListCells *cells, gsize line);

/* More columns than this are not told apart: what is behind them stays in one cell. */
#define TRAMMEL_LIST_MOST_COLUMNS 1001

G_END_DECLS
