// The random and the broad lamps, with their board on a spacer and a wedge and its optics aimed.
import type { BoardType, Lamp } from '../../src/lamp/schema.ts'
import { dice } from './randomLamp.ts'

/** `mostDeg`: the wedge's greatest tilt; over 10° the board stops light itself. */
export function tilted(lamp: Lamp, seed: number, mostDeg: number): Lamp {
  const d = dice(seed + 40_000)
  const wedge = { tiltDeg: d.between(0.2, 1) * mostDeg * d.pick([-1, 1]), axisDeg: d.between(-180, 180) }
  const board = { ...lamp.boards[0]!, heightMm: d.between(0, 15), wedge }
  const aimed = d.pick(['no', 'board', 'site', 'lamp'])
  const aim = { xDeg: d.between(-12, 12), yDeg: d.between(-12, 12) }
  const at = { xMm: d.between(-300, 300), yMm: d.between(-300, 300), distanceM: d.between(0.8, 5) }
  const face = lamp.face.sizeMm
  const outline = d.pick<BoardType['outline']>([
    { shape: 'rectangle', widthMm: d.between(0.3, 0.7) * face, heightMm: d.between(0.3, 0.7) * face },
    { shape: 'hexagon', acrossMm: d.between(0.3, 0.7) * face },
    { shape: 'disc', diameterMm: d.between(0.3, 0.7) * face },
  ])
  return {
    ...lamp,
    boardTypes: [{ ...lamp.boardTypes[0]!, outline }],
    ...(aimed === 'lamp' ? { aimAt: at } : {}),
    boards: [{ ...board, ...(aimed === 'board' ? { aim } : aimed === 'site' ? { siteAims: { 0: aim } } : {}) }],
  }
}
