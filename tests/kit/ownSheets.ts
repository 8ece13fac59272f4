// A lamp with everything that a drawing may hold: star boards with screw holes, a slot, a board on a wedge, one on a spacer, stand-offs on the face.
import type { Lamp } from '../../src/lamp/schema.ts'
import { gannetHead } from '../../src/library/demos.ts'
import { lampWith } from './lampWith.ts'

export const RING = { widthMm: 16, lipMm: 3, heightMm: 8, screws: 6, screwMm: 4 }

export function workshopLamp(): Lamp {
  const [type] = gannetHead().boardTypes
  const [board] = gannetHead().boards
  if (!type || !board) throw new Error('no board')
  return lampWith({
    name: 'Bench & <stars>',
    face: {
      ...{ shape: 'hexagon', sizeMm: 180 },
      keepOuts: [
        { shape: 'hole', xMm: 0, yMm: 85, diameterMm: 6, why: 'Cable' },
        { shape: 'slot', xMm: 10, yMm: -85, lengthMm: 20, widthMm: 5, turnDeg: 30, why: 'Strap' },
      ],
    },
    boardTypes: [
      {
        ...type,
        outline: { shape: 'star', acrossMm: 20, points: 6, notchMm: 4 },
        sites: [{ xMm: 0, yMm: 0 }],
        holes: [
          { xMm: 7, yMm: 0, diameterMm: 2.2 },
          { xMm: -7, yMm: 0, diameterMm: 2.2 },
        ],
      },
    ],
    boards: [
      { ...board, id: 'A', xMm: -40, yMm: 5, turnDeg: 30 },
      { ...board, id: 'B', xMm: 0, yMm: 0, turnDeg: 0, heightMm: 4 },
      { ...board, id: 'C', xMm: 40, yMm: 0, turnDeg: 0, wedge: { tiltDeg: 15, axisDeg: 90 } },
    ],
    tunnel: null,
    lens: { diameterMm: 120, zMm: 150 },
    workshop: { kerfMm: 0.2, lensRing: RING, sheetMm: { widthMm: 1000, heightMm: 600 } },
  })
}
