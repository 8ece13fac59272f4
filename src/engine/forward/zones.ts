// Where a ray is between face, tunnel and lens, and the lines on which it ends.
import { FATES, type Fate } from '../../run/types.ts'

export const fate = Object.fromEntries(FATES.map((name, i) => [name, i])) as Record<Fate, number>

export const ENDED = 0
export const GAP_BELOW = 1 // between face and tunnel, or all the way to the lens when there is no tunnel
export const TUNNEL = 2 // somewhere in the tunnel
export const TUNNEL_WALL = 5 // in the tunnel, and sure to meet its wall
export const GAP_ABOVE = 3 // between tunnel and lens; of an assembled lamp before the element that comes next
export const LENS = 4 // at the lens; of an assembled lamp in the frame of an element

/** Lines of light that has left the lamp where it shouldn't, and goes on in a straight line. */
const OPEN: readonly Fate[] = ['blocked', 'behindFace', 'leakedFaceGap', 'leakedLensGap', 'outsideLens']
export const goesOn = FATES.map((name) => OPEN.includes(name))
/** Under this weight the roulette begins; a survivor is doubled. */
export const SMALL = 0.01
