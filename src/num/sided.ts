// Rounding to the safe side at the last digit that is shown: a figure that is stated as “at least” must not get smaller by being written down, one
// stated as “at most” must not get larger.
// Own code, because Intl's roundingMode rounds 2.3000000000000003 up to 2.4, and its text has to be read back to a number.

/** A tolerance in the last digit, so that a figure held with the noise of its sum isn't moved by a whole one. */
const NOISE = 1e-9

/** The least number of so many significant digits that isn't under x: for what is needed, what harms, a distance to keep. */
export const roundedUp = (x: number, digits = 3): number => rounded(x, digits, (n) => Math.ceil(n - NOISE))

/** The largest number of so many significant digits that isn't over x: for what is borne, a time until harm. */
export const roundedDown = (x: number, digits = 3): number => rounded(x, digits, (n) => Math.floor(n + NOISE))

function rounded(x: number, digits: number, toWhole: (n: number) => number): number {
  if (x === 0 || !Number.isFinite(x)) return x
  const place = Math.floor(Math.log10(Math.abs(x)) + 1e-12) - digits + 1
  return place > 0 ? toWhole(x / 10 ** place) * 10 ** place : toWhole(x * 10 ** -place) / 10 ** -place
}
