/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/triangle-private.h"

G_BEGIN_DECLS

/* Rows that go into a triangle together. */
#define TRAMMEL_BLOCK_ROWS 256

/**
 * TrammelBlock:
 *
 * Gathers rows and reduces them into a triangle a block at a time by Householder reflections (A. S. Householder, J. ACM
 * 5 (1958) 339; the scheme is that of tall, skinny QR), which for a million rows of few columns is several times faster
 * than rotating each row in. Where there are many columns, rows have few non-zeros and are rotated in one by one.
 */
typedef struct
{
  TrammelTriangle *triangle;
  double *columns; /* n+1 columns of TRAMMEL_BLOCK_ROWS; NULL: rows are rotated in */
  guint n_rows;
} TrammelBlock;

void trammel_block_init (TrammelBlock *block, TrammelTriangle *triangle);
/* For rows without zeros, however many columns there are: always by reflections. */
void trammel_block_init_dense (TrammelBlock *block, TrammelTriangle *triangle);
void trammel_block_add (TrammelBlock *block, const guint *columns, const double *values, guint count, double rhs);
/* Reduces what is still there, and frees. */
void trammel_block_finish (TrammelBlock *block);

G_END_DECLS
