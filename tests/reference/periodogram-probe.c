/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads n, m, then n places, n values and m angular frequencies; writes the m powers. */
#include <stdio.h>

#include "measure/periodogram.h"

static double *
read_numbers (gsize n)
{
  double *numbers = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    if (scanf ("%lf", &numbers[i]) != 1)
      g_error ("not enough numbers");
  return numbers;
}

int
main (void)
{
  gsize n, m;
  if (scanf ("%zu %zu", &n, &m) != 2)
    return 1;
  g_autofree double *x = read_numbers (n);
  g_autofree double *y = read_numbers (n);
  g_autofree double *frequency = read_numbers (m);
  g_autofree double *power = g_new (double, m);
  trammel_lomb_scargle (x, y, n, frequency, m, power);
  for (gsize i = 0; i < m; i++)
    printf ("%.17g\n", power[i]);
  return 0;
}
