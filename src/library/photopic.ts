// The eye's daylight curve V(λ), CIE 1924, in steps of 5 nm. Every second value (380, 390, … and 465, 555, 635 nm) is the
// published table's; the values in between are the same table's from memory, held by their sum in
// tests/published/photometry-spectra.test.ts.

export const FROM_NM = 380
export const STEP_NM = 5
export const SAMPLES = 81

/** Km, lm/W: 683 lm/W at 540 THz divided by V there (CIE e-ILV 17-21-092). */
export const LM_PER_W = 683.002

// biome-ignore format: a table, ten values a line, one line for each 50 nm
export const PHOTOPIC_5NM = Float64Array.of(
  0.000039, 0.000064, 0.00012, 0.000217, 0.000396, 0.00064, 0.00121, 0.00218, 0.004, 0.0073, // 380
  0.0116, 0.01684, 0.023, 0.0298, 0.038, 0.048, 0.06, 0.0739, 0.09098, 0.1126, // 430
  0.13902, 0.1693, 0.20802, 0.2586, 0.323, 0.4073, 0.503, 0.6082, 0.71, 0.7932, // 480
  0.862, 0.91485, 0.954, 0.9803, 0.9949501, 1, 0.995, 0.9786, 0.952, 0.9154, // 530
  0.87, 0.8163, 0.757, 0.6949, 0.631, 0.5668, 0.503, 0.4412, 0.381, 0.321, // 580
  0.265, 0.217, 0.175, 0.1382, 0.107, 0.0816, 0.061, 0.04458, 0.032, 0.0232, // 630
  0.017, 0.01192, 0.00821, 0.005723, 0.004102, 0.002929, 0.002091, 0.001484, 0.001047, 0.00074, // 680
  0.00052, 0.0003611, 0.0002492, 0.0001719, 0.00012, 0.0000848, 0.00006, 0.0000424, 0.00003, 0.0000212, // 730
  0.00001499, // 780
)

/** V(λ), linear between the 5 nm values, 0 outside 380 to 780 nm. */
export function photopic(wavelengthNm: number): number {
  const at = (wavelengthNm - FROM_NM) / STEP_NM
  if (!(at >= 0 && at <= SAMPLES - 1)) return 0
  const i = Math.min(Math.floor(at), SAMPLES - 2)
  return PHOTOPIC_5NM[i]! + (at - i) * (PHOTOPIC_5NM[i + 1]! - PHOTOPIC_5NM[i]!)
}
