// Limits no real workshop lamp exceeds. They keep a hostile or mistaken file from hanging the program.
export const LIMITS = {
  emitters: 10_000,
  boards: 2_000,
  sitesPerBoard: 400,
  types: 64,
  lengthMm: 10_000,
  faceMm: 2_000,
  lensMm: 2_000,
  rings: 20_000,
  /** Lenses, covers and films besides the lens. */
  elements: 8,
  joints: 400,
  /** Shortest stretch of a tunnel: single precision still tells its ends apart 10 m away. */
  stretchMm: 0.01,
  /** Of an outline; neighbours are so far apart, mm, and it encloses at least so much, mm². */
  corners: 400,
  cornerGapMm: 0.01,
  outlineMm2: 0.01,
  tableRows: 400,
  /** Measured on the built lamp. */
  readingSets: 100,
  readingRows: 2_000,
  textChars: 2_000,
  /** Rays that the document holds of one ray file, and of all of them. */
  rays: 32_768,
  raysInAll: 262_144,
  /** Of a ray file that is read at all. */
  fileRays: 200_000_000,
  /** Factors of a table over its rated value. */
  factor: 1_000,
  tableA: 1_000,
  /** Relative intensities and spectral powers; a table's largest is at least its inverse, so that single precision holds all of them. */
  relative: 1e6,
  /** Neighbours in a rising column are this far apart, in its unit, so that slopes stay numbers. */
  tableStep: 1e-6,
  /** Least gap between the two temperatures of a cut-out or a fold-back, K: a run follows each cycle in time. */
  protectionK: 1,
} as const
