// Position and strength of the sun. Position: J. Meeus, Astronomical Algorithms (2nd ed. 1998), chapter 25, low accuracy
// (0.01°). Strength: A. B. Meinel and M. P. Meinel, Applied Solar Energy (1976), with the term for height of E. G. Laue, Solar
// Energy 13 (1970) 43 (volume and page from memory); air mass of F. Kasten and A. T. Young, Applied Optics 28 (1989) 4735.

const RAD = Math.PI / 180

/** Julian day of noon UT of a Gregorian calendar day (Meeus, chapter 7). */
export function julianDay(year: number, month: number, day: number): number {
  const [y, m] = month > 2 ? [year, month] : [year - 1, month + 12]
  const century = Math.floor(y / 100)
  const leap = 2 - century + Math.floor(century / 4)
  return Math.floor(365.25 * (y + 4716)) + Math.floor(30.6001 * (m + 1)) + day + leap - 1524.5 + 0.5
}

/** Apparent declination of the sun, degrees, at a Julian day (Meeus, chapter 25). */
export function sunDeclinationDeg(jd: number): number {
  const { apparent, obliquity } = sunLongitude(jd)
  return Math.asin(Math.sin(obliquity * RAD) * Math.sin(apparent * RAD)) / RAD
}

/**
 * Apparent longitude of the sun, 0 to 360°, and the obliquity corrected for it, degrees, at a Julian day; 0.01°
 * (Meeus, chapter 25).
 */
export function sunLongitude(jd: number): { apparent: number; obliquity: number } {
  const t = (jd - 2_451_545) / 36_525
  const mean = 280.46646 + t * (36_000.76983 + t * 0.0003032)
  const anomaly = (357.52911 + t * (35_999.05029 - t * 0.0001537)) * RAD
  const centre =
    (1.914602 - t * (0.004817 + t * 0.000014)) * Math.sin(anomaly) +
    (0.019993 - 0.000101 * t) * Math.sin(2 * anomaly) +
    0.000289 * Math.sin(3 * anomaly)
  const node = (125.04 - 1934.136 * t) * RAD
  const apparent = mean + centre - 0.00569 - 0.00478 * Math.sin(node)
  const obliquity = 23 + (26 + (21.448 - t * (46.815 + t * (0.00059 - t * 0.001813))) / 60) / 60
  return { apparent: ((apparent % 360) + 360) % 360, obliquity: obliquity + 0.00256 * Math.cos(node) }
}

/**
 * Height above the horizon and azimuth from north over east, degrees, at solar time in hours (12: due south or
 * north); no refraction. Spherical trigonometry, textbook.
 */
export function sunAt(
  latitudeDeg: number,
  declinationDeg: number,
  solarHour: number,
): { upDeg: number; towardsDeg: number } {
  const [phi, delta, hour] = [latitudeDeg * RAD, declinationDeg * RAD, 15 * (solarHour - 12) * RAD]
  const east = -Math.cos(delta) * Math.sin(hour)
  const north = Math.sin(delta) * Math.cos(phi) - Math.cos(delta) * Math.cos(hour) * Math.sin(phi)
  const up = Math.sin(delta) * Math.sin(phi) + Math.cos(delta) * Math.cos(hour) * Math.cos(phi)
  return {
    upDeg: Math.asin(Math.max(-1, Math.min(1, up))) / RAD,
    towardsDeg: (Math.atan2(east, north) / RAD + 360) % 360,
  }
}

/**
 * Air mass relative to the zenith's: 1/(sin h + 0.50572 (h + 6.07995)^−1.6364), h > −6° in degrees (Kasten and Young
 * 1989).
 */
export const airMass = (upDeg: number): number => 1 / (Math.sin(upDeg * RAD) + 0.50572 * (upDeg + 6.07995) ** -1.6364)

/**
 * Direct normal irradiance under a clear sky, W/m²: 1353 ((1 − 0.14 h) 0.7^(AM^0.678) + 0.14 h), h in km; 0 below the
 * horizon (Meinel and Meinel 1976; Laue 1970).
 */
export function clearSkyWm2(upDeg: number, heightM = 0): number {
  if (!(upDeg > 0)) return 0
  const thinner = Math.min(1, (0.14 * heightM) / 1000)
  return 1353 * ((1 - thinner) * 0.7 ** (airMass(upDeg) ** 0.678) + thinner)
}

/**
 * The sun as the lamp sees it: angle off the lamp's axis (0 to 180°) and azimuth about it in the lamp's frame (0 to
 * 360°; x right, y up, seen from the target looking back; y is the lamp's upward side, away from the compass direction
 * `towards` where it lies on its back).
 */
export function toLampFrame(
  lens: { upDeg: number; towardsDeg: number },
  sun: { upDeg: number; towardsDeg: number },
): { tiltDeg: number; azimuthDeg: number } {
  const [e, a] = [lens.upDeg * RAD, lens.towardsDeg * RAD]
  const axis: Vector = [Math.cos(e) * Math.sin(a), Math.cos(e) * Math.cos(a), Math.sin(e)]
  const up: Vector = [-Math.sin(e) * Math.sin(a), -Math.sin(e) * Math.cos(a), Math.cos(e)]
  const right = cross(up, axis)
  const [h, b] = [sun.upDeg * RAD, sun.towardsDeg * RAD]
  const to: Vector = [Math.cos(h) * Math.sin(b), Math.cos(h) * Math.cos(b), Math.sin(h)]
  const tilt = Math.atan2(Math.hypot(dot(to, right), dot(to, up)), dot(to, axis))
  return { tiltDeg: tilt / RAD, azimuthDeg: (Math.atan2(dot(to, up), dot(to, right)) / RAD + 360) % 360 }
}

type Vector = readonly [number, number, number]
const dot = (a: Vector, b: Vector) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]

/**
 * Direct normal irradiance of a very clear day at 2.7 km, sun overhead: clearSkyWm2 there, rounded, W/m² (Meinel and Meinel 1976, Laue
 * 1970). The hot side of the 1000 W/m² that a design is usually judged by.
 */
export const VERY_CLEAR_WM2 = 1100

/** What sunlight is traced at, W/m²: the lamp's own sun, and never less than that of a very clear day; 0 where the lamp has none. */
export const hotSunWm2 = (readingWm2: number): number => (readingWm2 > 0 ? Math.max(readingWm2, VERY_CLEAR_WM2) : 0)
