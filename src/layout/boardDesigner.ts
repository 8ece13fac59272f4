// The usual boards: emitters in a row, a grid, hexagonal rings, on a circle; and an outline that holds them.
import type { BoardType, Site } from '../lamp/schema.ts'
import { gridPlaces, hexagonalPlaces, ringPlaces, rowPlaces } from '../num/places.ts'

export const rowSites = (n: number, pitchMm: number): Site[] => rowPlaces(n, pitchMm)

export const gridSites = (columns: number, rows: number, pitchXMm: number, pitchYMm = pitchXMm): Site[] =>
  gridPlaces(columns, rows, pitchXMm, pitchYMm)

/** 1, 7, 19, 37 … emitters for 0, 1, 2, 3 … rings. */
export const hexSites = (rings: number, pitchMm: number): Site[] => hexagonalPlaces(rings, pitchMm)

export const ringSites = (n: number, radiusMm: number, centre = false): Site[] => [
  ...(centre ? [{ xMm: 0, yMm: 0 }] : []),
  ...ringPlaces(n, radiusMm),
]

/** The least outline of a shape, centred on the board's origin, that keeps `borderMm` around discs of `takenMm` at the sites. */
export function outlineAround(
  shape: 'rectangle' | 'hexagon' | 'disc',
  sites: readonly Site[],
  takenMm: number,
  borderMm: number,
): BoardType['outline'] {
  const grown = takenMm / 2 + borderMm
  const reach = (deg: number) => {
    const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)]
    return Math.max(...sites.map((p) => Math.abs(p.xMm * c + p.yMm * s))) + grown
  }
  const up = (mm: number) => Math.ceil(mm * 20 - 1e-6) / 20 // boards are cut in twentieths
  if (shape === 'rectangle') return { shape, widthMm: up(2 * reach(0)), heightMm: up(2 * reach(90)) }
  if (shape === 'hexagon') return { shape, acrossMm: up(2 * Math.max(reach(0), reach(60), reach(120))) }
  return { shape, diameterMm: up(2 * (Math.max(...sites.map((p) => Math.hypot(p.xMm, p.yMm))) + grown)) }
}
