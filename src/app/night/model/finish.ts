// How finely the picture may be drawn: on a slow machine coarser while something moves, finer once it rests.

/** While something moves, less than a frame; and once nothing has for a moment: the longest a picture may take. */
export const LIVE_MS = 14
export const STILL_MS = 700
/** A picture that is saved may take longer, and is wanted so wide. */
export const SAVED_MS = 8000
export const SAVED_PX = 1920
/** A picture that takes no longer needs no watching: only now and then is it waited for, to learn what it takes. */
export const LIGHT_MS = 6
export const WATCH_EVERY = 16
const COARSEST = 0.3

/** Canvas pixels for each CSS pixel. `msPerPixel` of 0: not yet known, so a small picture finds it out. */
export function finishOf(pixels: number, full: number, msPerPixel: number, budgetMs: number): number {
  if (msPerPixel === 0) return full * COARSEST
  const wholeMs = msPerPixel * pixels * full * full
  return wholeMs <= budgetMs ? full : full * Math.max(COARSEST, Math.sqrt(budgetMs / wholeMs))
}

/** A new measure counts half, so that one hiccup doesn't coarsen the picture for long. */
export const learned = (msPerPixel: number, ms: number, pixels: number): number =>
  msPerPixel === 0 ? ms / pixels : 0.5 * (msPerPixel + ms / pixels)
