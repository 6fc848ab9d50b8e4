/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "base/quantity.h"

#include <check.h>
#include <math.h>
#include <string.h>

#define NUMBER TRAMMEL_DIMENSION_NUMBER
#define LENGTH TRAMMEL_DIMENSION_LENGTH
#define PITCH TRAMMEL_DIMENSION_PITCH
#define MODULE TRAMMEL_DIMENSION_MODULE
#define ANGLE TRAMMEL_DIMENSION_ANGLE
#define MASS TRAMMEL_DIMENSION_MASS
#define FORCE TRAMMEL_DIMENSION_FORCE
#define TORQUE TRAMMEL_DIMENSION_TORQUE
#define INERTIA TRAMMEL_DIMENSION_INERTIA
#define SPEED TRAMMEL_DIMENSION_SPEED
#define ROTATION TRAMMEL_DIMENSION_ROTATION
#define TIME TRAMMEL_DIMENSION_TIME
#define RATE TRAMMEL_DIMENSION_RATE
#define LASH TRAMMEL_DIMENSION_LASH
#define ACCELERATION TRAMMEL_DIMENSION_ACCELERATION
#define ANGULAR TRAMMEL_DIMENSION_ANGULAR_ACCELERATION
#define DENSITY TRAMMEL_DIMENSION_DENSITY
#define STRESS TRAMMEL_DIMENSION_STRESS

/* Exact base values. The inch is 25.4 mm, the pound 0.45359237 kg (international yard and pound agreement, 1959),
 * standard gravity 9.80665 m/s² (3rd CGPM, 1901); the rest by hand. */
/* clang-format off */
static const struct
{
  const char *text;
  TrammelDimension dimension;
  gint64 num, den;
  int pi;
  const char *written;
} readable[] = {
  { "12.8 cm", LENGTH, 128, 1, 0, "12.8 cm" },
  { "12.8cm", LENGTH, 128, 1, 0, "12.8 cm" },
  { "5 in", LENGTH, 127, 1, 0, "5 in" },
  { "5\"", LENGTH, 127, 1, 0, "5 in" },
  { "5″", LENGTH, 127, 1, 0, "5 in" },
  { "5 inches", LENGTH, 127, 1, 0, "5 in" },
  { "1/4 in", LENGTH, 127, 20, 0, "1/4 in" },
  { "1 3/8\"", LENGTH, 1397, 40, 0, "1 3/8 in" },
  { "-3/8 in", LENGTH, -381, 40, 0, "-3/8 in" },
  { "5.039 in", LENGTH, 639953, 5000, 0, "5.039 in" },
  { "0.4", LENGTH, 2, 5, 0, "0.4 mm" },
  { "12,5 mm", LENGTH, 25, 2, 0, "12.5 mm" },
  { "5 2/11 mm", LENGTH, 57, 11, 0, "57/11 mm" },
  { "3π mm", LENGTH, 3, 1, 1, "3π mm" },
  { "3 pi", LENGTH, 3, 1, 1, "3π mm" },
  { "250 µm", LENGTH, 1, 4, 0, "250 µm" },
  { "250 \u03bcm", LENGTH, 1, 4, 0, "250 µm" },
  { "250 um", LENGTH, 1, 4, 0, "250 µm" },
  { "1 m", LENGTH, 1000, 1, 0, "1 m" },
  { "1 ft", LENGTH, 1524, 5, 0, "1 ft" },
  { "1′", LENGTH, 1524, 5, 0, "1 ft" },
  { "5 mil", LENGTH, 127, 1000, 0, "5 mil" },
  { "5 thou", LENGTH, 127, 1000, 0, "5 thou" },
  { "2 MM", LENGTH, 2, 1, 0, "2 mm" },
  { "2\u00a0mm", LENGTH, 2, 1, 0, "2 mm" },
  { "1e-3 m", LENGTH, 1, 1, 0, "0.001 m" },
  { "20 tpi", PITCH, 127, 100, 0, "20 tpi" },       /* 1/4-20 UNC: 1.27 mm */
  { "13.5 TPI", PITCH, 254, 135, 0, "13.5 tpi" },
  { "1.25 mm", PITCH, 5, 4, 0, "1.25 mm" },
  { "1/8 in", PITCH, 127, 40, 0, "1/8 in" },
  { "24 DP", MODULE, 127, 120, 0, "24 DP" },
  { "24dp", MODULE, 127, 120, 0, "24 DP" },
  { "0.5", MODULE, 1, 2, 0, "0.5 mm" },
  { "90 deg", ANGLE, 1, 2, 1, "90 deg" },
  { "90°", ANGLE, 1, 2, 1, "90 deg" },
  { "90", ANGLE, 1, 2, 1, "90 deg" },
  { "1.8 degrees", ANGLE, 1, 100, 1, "1.8 deg" },
  { "30 arcmin", ANGLE, 1, 360, 1, "30 arcmin" },
  { "30′", ANGLE, 1, 360, 1, "30 arcmin" },
  { "1 arcsec", ANGLE, 1, 648000, 1, "1 arcsec" },
  { "1″", ANGLE, 1, 648000, 1, "1 arcsec" },
  { "0.5 rad", ANGLE, 1, 2, 0, "0.5 rad" },
  { "3 mrad", ANGLE, 3, 1000, 0, "3 mrad" },
  { "1/4 turn", ANGLE, 1, 2, 1, "0.25 turn" },
  { "π/4 rad", ANGLE, 1, 4, 1, "π/4 rad" },
  { "3 %", NUMBER, 3, 100, 0, "3 %" },
  { "3%", NUMBER, 3, 100, 0, "3 %" },
  { "0.03", NUMBER, 3, 100, 0, "0.03" },
  { "2 kg", MASS, 2, 1, 0, "2 kg" },
  { "250 g", MASS, 1, 4, 0, "250 g" },
  { "1 lb", MASS, 45359237, 100000000, 0, "1 lb" },
  { "16 oz", MASS, 45359237, 100000000, 0, "16 oz" },
  { "5 N", FORCE, 5, 1, 0, "5 N" },
  { "5 mN", FORCE, 1, 200, 0, "5 mN" },
  { "6.4 kN", FORCE, 6400, 1, 0, "6.4 kN" },
  { "1 kgf", FORCE, 980665, 100000, 0, "1 kgf" },
  { "100 gf", FORCE, 980665, 1000000, 0, "100 gf" },
  { "40 N·cm", TORQUE, 2, 5, 0, "40 N·cm" },
  { "40 Ncm", TORQUE, 2, 5, 0, "40 N·cm" },
  { "0.4 Nm", TORQUE, 2, 5, 0, "0.4 N·m" },
  { "0.4 N m", TORQUE, 2, 5, 0, "0.4 N·m" },
  { "400 mNm", TORQUE, 2, 5, 0, "400 mN·m" },
  { "4 kgf cm", TORQUE, 980665, 2500000, 0, "4 kgf·cm" },
  { "0.00001 kg m²", INERTIA, 1, 100000, 0, "0.00001 kg·m²" },
  { "54 g cm²", INERTIA, 54, 10000000, 0, "54 g·cm²" },
  { "54 g cm^2", INERTIA, 54, 10000000, 0, "54 g·cm²" },
  { "30 mm/s", SPEED, 30, 1, 0, "30 mm/s" },
  { "1800 mm/min", SPEED, 30, 1, 0, "1800 mm/min" },
  { "0.03 m/s", SPEED, 30, 1, 0, "0.03 m/s" },
  { "3 cm/s", SPEED, 30, 1, 0, "3 cm/s" },
  { "1.8 m/min", SPEED, 30, 1, 0, "1.8 m/min" },
  { "2 in/s", SPEED, 254, 5, 0, "2 in/s" },
  { "300 in/min", SPEED, 127, 1, 0, "300 in/min" },
  { "600 rpm", ROTATION, 20, 1, 1, "600 rpm" },
  { "600 rev/min", ROTATION, 20, 1, 1, "600 rpm" },
  { "600 1/min", ROTATION, 20, 1, 1, "600 rpm" },
  { "10 rev/s", ROTATION, 20, 1, 1, "10 rev/s" },
  { "180 deg/s", ROTATION, 1, 1, 1, "180 deg/s" },
  { "7 rad/s", ROTATION, 7, 1, 0, "7 rad/s" },
  { "250 ms", TIME, 1, 4, 0, "250 ms" },
  { "2 min", TIME, 120, 1, 0, "2 min" },
  { "1 h", TIME, 3600, 1, 0, "1 h" },
  { "100000 /s", RATE, 100000, 1, 0, "100000 /s" },
  { "100000 1/s", RATE, 100000, 1, 0, "100000 /s" },
  { "100000/s", RATE, 100000, 1, 0, "100000 /s" },
  { "100 kHz", RATE, 100000, 1, 0, "100 kHz" },
  { "1500 mm/s²", ACCELERATION, 1500, 1, 0, "1500 mm/s²" },
  { "1.5 m/s^2", ACCELERATION, 1500, 1, 0, "1.5 m/s²" },
  { "10 in/s2", ACCELERATION, 254, 1, 0, "10 in/s²" },
  { "180 deg/s²", ANGULAR, 1, 1, 1, "180 deg/s²" },
  { "1 rev/s²", ANGULAR, 2, 1, 1, "1 rev/s²" },
  { "7850 kg/m³", DENSITY, 7850, 1, 0, "7850 kg/m³" },
  { "1.24 g/cm^3", DENSITY, 1240, 1, 0, "1.24 g/cm³" },
  /* 0.45359237 kg in 0.0254³ m³ */
  { "1 lb/in³", DENSITY, 56699046250, 2048383, 0, "1 lb/in³" },
  { "206 GPa", STRESS, 206000, 1, 0, "206 GPa" },
  { "350 MPa", STRESS, 350, 1, 0, "350 MPa" },
  { "350 N/mm²", STRESS, 350, 1, 0, "350 N/mm²" },
  /* 4.4482216152605 N on 25.4² mm² */
  { "1 psi", STRESS, 8896443230521, 1290320000000000, 0, "1 psi" },
  { "0.1 MHz", RATE, 100000, 1, 0, "0.1 MHz" },
  { "1/3 /s", RATE, 1, 3, 0, "1/3 /s" },
  { "20000 steps/s", RATE, 20000, 1, 0, "20000 /s" },
  { "0.1 mm", LASH, 1, 10, 0, "0.1 mm" },
  { "0.1", LASH, 1, 10, 0, "0.1 mm" },
  { "0.5 deg", LASH, 1, 360, 1, "0.5 deg" },
  { "12 arcmin", LASH, 1, 900, 1, "12 arcmin" },
};
/* clang-format on */

START_TEST (reads_and_writes)
{
  TrammelQuantity quantity, back;
  TrammelExact base, wanted;
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_quantity_parse (readable[_i].text, readable[_i].dimension, NULL, &quantity, &error), "%s",
                 readable[_i].text);
  ck_assert_msg (trammel_quantity_base (quantity, &base, &error), "%s", readable[_i].text);
  ck_assert (trammel_exact_make (readable[_i].num, readable[_i].den, readable[_i].pi, &wanted, NULL));
  ck_assert_msg (trammel_exact_equal (base, wanted), "%s: %" G_GINT64_FORMAT "/%" G_GINT64_FORMAT, readable[_i].text,
                 base.num, base.den);

  g_autofree char *text = trammel_quantity_to_text (quantity);
  ck_assert_str_eq (text, readable[_i].written);
  ck_assert (trammel_quantity_parse (text, readable[_i].dimension, NULL, &back, &error));
  ck_assert (trammel_quantity_equal (quantity, back));
}
END_TEST

/* Handbook factors, to the digits given: lbf 4.4482216 N, ozf 0.27801385 N, ozf·in 7.0615518 mN·m, lbf·in 0.11298483
 * N·m, lbf·ft 1.3558179 N·m (NIST SP 811, appendix B.8; from memory, they follow from the pound, the inch and g). */
static const struct
{
  const char *text;
  TrammelDimension dimension;
  double value;
} pound_units[] = {
  { "1 lbf", FORCE, 4.4482216 },      { "1 ozf", FORCE, 0.27801385 },    { "1 ozf in", TORQUE, 7.0615518e-3 },
  { "1 lbf in", TORQUE, 0.11298483 }, { "1 lbf·ft", TORQUE, 1.3558179 },
};

START_TEST (pounds_and_ounces)
{
  TrammelQuantity quantity;
  ck_assert (trammel_quantity_parse (pound_units[_i].text, pound_units[_i].dimension, NULL, &quantity, NULL));
  ck_assert_double_eq_tol (trammel_quantity_value (quantity) / pound_units[_i].value, 1.0, 1e-7);
}
END_TEST

static const struct
{
  const char *text;
  TrammelDimension dimension;
  int code;
  const char *says; /* the message has this */
} unreadable[] = {
  { "", LENGTH, TRAMMEL_ERROR_PARSE, "mm" },
  { "mm", LENGTH, TRAMMEL_ERROR_PARSE, "mm" },
  { "2 potatoes", PITCH, TRAMMEL_ERROR_PARSE, "2 potatoes" },
  { "2 potatoes", PITCH, TRAMMEL_ERROR_PARSE, "tpi" },
  { "5 kg", LENGTH, TRAMMEL_ERROR_PARSE, "cm" },
  { "5 mm", ANGLE, TRAMMEL_ERROR_PARSE, "deg" },
  { "20 tpi", LENGTH, TRAMMEL_ERROR_PARSE, "mil" },
  { "20 tpi", MODULE, TRAMMEL_ERROR_PARSE, "DP" },
  { "24 DP", PITCH, TRAMMEL_ERROR_PARSE, "tpi" },
  { "5\"", LASH, TRAMMEL_ERROR_PARSE, "arcmin" }, /* inches or seconds of arc? */
  { "5'", LASH, TRAMMEL_ERROR_PARSE, "in" },
  { "5 MN", FORCE, TRAMMEL_ERROR_PARSE, "mN" }, /* not millinewton */
  { "5 mPa", STRESS, TRAMMEL_ERROR_PARSE, "MPa" },
  { "5 mm/s", ACCELERATION, TRAMMEL_ERROR_PARSE, "mm/s²" },
  { "5 mHz", RATE, TRAMMEL_ERROR_PARSE, "MHz" },
  { "5 mm mm", LENGTH, TRAMMEL_ERROR_PARSE, "mm" },
  { "5 mm 3", LENGTH, TRAMMEL_ERROR_PARSE, "mm" },
  { "nan mm", LENGTH, TRAMMEL_ERROR_PARSE, "nan" },
  { "inf", LENGTH, TRAMMEL_ERROR_PARSE, "inf" },
  { "0x10 mm", LENGTH, TRAMMEL_ERROR_PARSE, "0x10" },
  { "1.2.3 mm", LENGTH, TRAMMEL_ERROR_PARSE, "1.2.3" },
  { "1,5.2 mm", LENGTH, TRAMMEL_ERROR_PARSE, "1,5.2" },
  { "5 %", LENGTH, TRAMMEL_ERROR_PARSE, "5 %" },
  { "\xff\xfe\x30", LENGTH, TRAMMEL_ERROR_PARSE, "mm" },
  { "0 tpi", PITCH, TRAMMEL_ERROR_RANGE, "0 tpi" },
  { "0 DP", MODULE, TRAMMEL_ERROR_RANGE, "0 DP" },
  { "1/0 mm", LENGTH, TRAMMEL_ERROR_RANGE, "1/0" },
  { "1e400 mm", LENGTH, TRAMMEL_ERROR_OVERFLOW, "1e400" },
};

START_TEST (refuses_to_read)
{
  TrammelQuantity quantity = { { 5, 7, 0 }, NULL };
  g_autoptr (GError) error = NULL;
  ck_assert_msg (!trammel_quantity_parse (unreadable[_i].text, unreadable[_i].dimension, NULL, &quantity, &error), "%s",
                 unreadable[_i].text);
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, unreadable[_i].code), "%s", error->message);
  ck_assert_msg (strstr (error->message, unreadable[_i].says) != NULL, "%s", error->message);
  ck_assert (g_utf8_validate (error->message, -1, NULL));
  ck_assert_ptr_null (quantity.unit);
}
END_TEST

START_TEST (the_assumed_unit_counts_where_it_can)
{
  const TrammelUnit *inch = trammel_unit_find (LENGTH, "in");
  TrammelQuantity quantity;
  ck_assert (trammel_quantity_parse ("2", LENGTH, inch, &quantity, NULL));
  ck_assert_ptr_eq (quantity.unit, inch);
  ck_assert (trammel_quantity_parse ("2 mm", LENGTH, inch, &quantity, NULL));
  ck_assert_str_eq (trammel_unit_symbol (quantity.unit), "mm");
  ck_assert (trammel_quantity_parse ("2", PITCH, inch, &quantity, NULL));
  ck_assert_ptr_eq (quantity.unit, inch);
  ck_assert (trammel_quantity_parse ("2", FORCE, inch, &quantity, NULL));
  ck_assert_str_eq (trammel_unit_symbol (quantity.unit), "N");
}
END_TEST

START_TEST (units)
{
  const TrammelUnit *inch = trammel_unit_find (LENGTH, "in"), *degree = trammel_unit_find (LASH, "deg");
  ck_assert_double_eq (trammel_unit_factor (inch), 25.4);
  ck_assert_double_eq_tol (trammel_unit_factor (degree), 0.017453292519943295, 1e-17);
  ck_assert_int_eq (trammel_unit_dimension (inch), LENGTH);
  ck_assert_int_eq (trammel_unit_dimension (degree), ANGLE);
  ck_assert_int_eq (trammel_unit_dimension (trammel_unit_find (LASH, "µm")), LENGTH);
  ck_assert_ptr_eq (trammel_unit_find (PITCH, "in"), inch);
  ck_assert_ptr_null (trammel_unit_find (LENGTH, "deg"));
  ck_assert_ptr_null (trammel_unit_find (LENGTH, ""));
  ck_assert_str_eq (trammel_unit_symbol (trammel_unit_find (NUMBER, "")), "");
  ck_assert_str_eq (trammel_unit_symbol (trammel_unit_base (LENGTH)), "mm");
  ck_assert_str_eq (trammel_unit_symbol (trammel_unit_base (PITCH)), "mm");
  ck_assert_str_eq (trammel_unit_symbol (trammel_unit_base (MODULE)), "mm");
  ck_assert_str_eq (trammel_unit_symbol (trammel_unit_base (LASH)), "mm");
  ck_assert_str_eq (trammel_unit_symbol (trammel_unit_base (ANGLE)), "rad");
  ck_assert_str_eq (trammel_unit_symbol (trammel_unit_base (TORQUE)), "N·m");
  ck_assert_str_eq (trammel_unit_symbol (trammel_unit_base (RATE)), "/s");

  g_autofree char *long_symbol = g_strnfill (5000, 'm');
  ck_assert_ptr_null (trammel_unit_find (LENGTH, long_symbol));
}
END_TEST

static const struct
{
  const char *text;
  TrammelDimension dimension;
  double value;
} values[] = {
  { "99.71234567890123 mm", LENGTH, 99.71234567890123 },
  { "99.71234567890123", LENGTH, 99.71234567890123 },
  { "-0.05", LENGTH, -0.05 },
  { "12,5 mm", LENGTH, 12.5 },
  { "5 in", LENGTH, 127 },
  { "1 3/8 in", LENGTH, 34.925 },
  { "0.1 in", LENGTH, 2.54 },
  { "3.14159265358979323846264338 mm", LENGTH, 3.14159265358979323846264338 },
  { "3,14159265358979323846264338 mm", LENGTH, 3.14159265358979323846264338 },
  { "100000000000000000000000000 mm", LENGTH, 1e26 },
  { "1e-300", LENGTH, 1e-300 },
  { "1e300", LENGTH, 1e300 },
  { "1e300 mm", LENGTH, 1e300 },
  { "0.3 %", NUMBER, 0.003 },
  { "1 turn", ANGLE, 2 * G_PI },
  { "20 tpi", PITCH, 1.27 },
};

START_TEST (reads_values)
{
  double value = NAN;
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_quantity_parse_value (values[_i].text, values[_i].dimension, NULL, &value, &error), "%s",
                 values[_i].text);
  ck_assert_msg (value == values[_i].value, "%s: %.17g", values[_i].text, value);
}
END_TEST

static const struct
{
  const char *text;
  TrammelDimension dimension;
  int code;
} no_values[] = {
  { "", LENGTH, TRAMMEL_ERROR_PARSE },          { "nan", LENGTH, TRAMMEL_ERROR_PARSE },
  { "inf mm", LENGTH, TRAMMEL_ERROR_PARSE },    { "99.7.1", LENGTH, TRAMMEL_ERROR_PARSE },
  { "99 kg", LENGTH, TRAMMEL_ERROR_PARSE },     { "1e400", LENGTH, TRAMMEL_ERROR_RANGE },
  { "-1e400 mm", LENGTH, TRAMMEL_ERROR_RANGE }, { "1e999999999 in", LENGTH, TRAMMEL_ERROR_RANGE },
  { "1/0", LENGTH, TRAMMEL_ERROR_RANGE },       { "0 tpi", PITCH, TRAMMEL_ERROR_RANGE },
  { "1e-400 tpi", PITCH, TRAMMEL_ERROR_RANGE },
};

START_TEST (refuses_to_read_values)
{
  double value = 17;
  g_autoptr (GError) error = NULL;
  ck_assert_msg (!trammel_quantity_parse_value (no_values[_i].text, no_values[_i].dimension, NULL, &value, &error),
                 "%s", no_values[_i].text);
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, no_values[_i].code), "%s", error->message);
  ck_assert_double_eq (value, 17);
}
END_TEST

START_TEST (exact_base_may_not_fit)
{
  TrammelQuantity quantity;
  TrammelExact base;
  g_autoptr (GError) error = NULL;
  ck_assert (trammel_quantity_parse ("9000000000000000001 m", LENGTH, NULL, &quantity, NULL));
  ck_assert (!trammel_quantity_base (quantity, &base, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_OVERFLOW));
  ck_assert_double_eq (trammel_quantity_value (quantity), 9.000000000000000001e21);
}
END_TEST

START_TEST (any_text_reads_back)
{
  static const struct
  {
    TrammelDimension dimension;
    const char *symbol;
  } written[]
      = { { NUMBER, "%" },      { LENGTH, "in" },     { LENGTH, "µm" }, { PITCH, "tpi" },    { ANGLE, "arcsec" },
          { TORQUE, "ozf·in" }, { INERTIA, "g·cm²" }, { RATE, "/s" },   { ROTATION, "rpm" }, { LASH, "arcmin" } };
  GRand *random = g_rand_new_with_seed (5);
  for (int i = 0; i < 20000; i++)
    {
      const gsize which = (gsize)i % G_N_ELEMENTS (written);
      TrammelQuantity quantity = { .unit = trammel_unit_find (written[which].dimension, written[which].symbol) }, back;
      ck_assert_ptr_nonnull (quantity.unit);
      ck_assert (trammel_exact_make (g_rand_int_range (random, -100000, 100000) * 2 + 1,
                                     G_GINT64_CONSTANT (1) << g_rand_int_range (random, 0, 12), 0, &quantity.number,
                                     NULL));
      if (i % 3 == 0)
        ck_assert (trammel_exact_divide (quantity.number, (TrammelExact){ 7, 10, i % 2 }, &quantity.number, NULL));
      g_autofree char *text = trammel_quantity_to_text (quantity);
      ck_assert_msg (trammel_quantity_parse (text, written[which].dimension, NULL, &back, NULL), "%s", text);
      ck_assert_msg (trammel_quantity_equal (quantity, back), "%s", text);
    }
  g_rand_free (random);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("quantity");
  TCase *texts = tcase_create ("texts"), *numbers = tcase_create ("values");
  tcase_add_loop_test (texts, reads_and_writes, 0, G_N_ELEMENTS (readable));
  tcase_add_loop_test (texts, pounds_and_ounces, 0, G_N_ELEMENTS (pound_units));
  tcase_add_loop_test (texts, refuses_to_read, 0, G_N_ELEMENTS (unreadable));
  tcase_add_test (texts, the_assumed_unit_counts_where_it_can);
  tcase_add_test (texts, units);
  tcase_add_test (texts, any_text_reads_back);
  tcase_add_loop_test (numbers, reads_values, 0, G_N_ELEMENTS (values));
  tcase_add_loop_test (numbers, refuses_to_read_values, 0, G_N_ELEMENTS (no_values));
  tcase_add_test (numbers, exact_base_may_not_fit);
  suite_add_tcase (suite, texts);
  suite_add_tcase (suite, numbers);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
