// Regular sets of points in the plane. Coordinates are rounded to 0.1 µm, so that documents stay readable.
// Own code, because these are four formulas, and their order and rounding are part of the documents.

export interface Place {
  xMm: number
  yMm: number
}

const round = (v: number) => Math.round(v * 1e4) / 1e4 + 0

/**
 * 1 + 3 n (n + 1) places for n rings (1, 7, 19, 37 …), mm: the centre, then ring by ring, anticlockwise from +x.
 * `rings` a whole number ≥ 0; coordinates rounded to 0.1 µm.
 */
export function hexagonalPlaces(rings: number, pitchMm: number): Place[] {
  const places = [{ xMm: 0, yMm: 0 }]
  for (let ring = 1; ring <= rings; ring++) {
    for (let side = 0; side < 6; side++) {
      const from = (side * Math.PI) / 3
      const along = from + (2 * Math.PI) / 3
      for (let step = 0; step < ring; step++) {
        places.push({
          xMm: round(pitchMm * (ring * Math.cos(from) + step * Math.cos(along))),
          yMm: round(pitchMm * (ring * Math.sin(from) + step * Math.sin(along))),
        })
      }
    }
  }
  return places
}

/** n places in a row along x, `pitchMm` apart, centred on the origin; mm. */
export const rowPlaces = (n: number, pitchMm: number): Place[] =>
  Array.from({ length: n }, (_, i) => ({ xMm: round((i - (n - 1) / 2) * pitchMm), yMm: 0 }))

/** columns × rows places centred on the origin, row by row from low y up; mm. */
export const gridPlaces = (columns: number, rows: number, pitchXMm: number, pitchYMm: number): Place[] =>
  rowPlaces(rows, pitchYMm).flatMap(({ xMm: yMm }) => rowPlaces(columns, pitchXMm).map(({ xMm }) => ({ xMm, yMm })))

/** n places evenly on a circle about the origin, anticlockwise from `fromDeg`; mm. */
export const ringPlaces = (n: number, radiusMm: number, fromDeg = 0): Place[] =>
  Array.from({ length: n }, (_, i) => {
    const at = (fromDeg * Math.PI) / 180 + (2 * Math.PI * i) / n
    return { xMm: round(radiusMm * Math.cos(at)), yMm: round(radiusMm * Math.sin(at)) }
  })
