// Resolution of the picture: on a slow machine coarser during interaction, finer once nothing moves.

/** Time budgets of a picture: during interaction less than a frame, longer once nothing moves. */
export const LIVE_MS = 14
export const STILL_MS = 700
/** Time budget and width of a saved picture. */
export const SAVED_MS = 8000
export const SAVED_PX = 1920
/** A picture within this time is measured only now and then, since measuring waits for the GPU. */
export const LIGHT_MS = 6
export const WATCH_EVERY = 16
const COARSEST = 0.3

/** Canvas pixels for each CSS pixel. `msPerPixel` of 0: not yet known, so a small picture measures it. */
export function finishOf(pixels: number, full: number, msPerPixel: number, budgetMs: number): number {
  if (msPerPixel === 0) return full * COARSEST
  const wholeMs = msPerPixel * pixels * full * full
  return wholeMs <= budgetMs ? full : full * Math.max(COARSEST, Math.sqrt(budgetMs / wholeMs))
}

/** Running mean: a new measurement counts half, so that one outlier doesn't coarsen the picture for long. */
export const updatedMsPerPixel = (msPerPixel: number, ms: number, pixels: number): number =>
  msPerPixel === 0 ? ms / pixels : 0.5 * (msPerPixel + ms / pixels)
