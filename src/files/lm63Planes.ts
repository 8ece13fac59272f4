// The planes that a type C file must contain, and those that it omits because of mirror symmetry (LM-63-1995 and 2002).

export type Symmetry = 'axial' | 'quadrant' | 'plane 0-180' | 'plane 90-270' | 'none'

/** Why the angles are invalid, or null. */
export function angleFault(vertical: readonly number[], horizontal: readonly number[]): string | null {
  const [v0, v1] = [vertical[0]!, vertical.at(-1)!]
  const [h0, h1] = [horizontal[0]!, horizontal.at(-1)!]
  if (!((v0 === 0 && (v1 === 90 || v1 === 180)) || (v0 === 90 && v1 === 180))) {
    return `vertical angles: ${v0} to ${v1} does not fit; expected 0 to 90, 90 to 180 or 0 to 180.`
  }
  const fits = (h0 === 0 && (h1 === 0 || h1 === 90 || h1 >= 180)) || (h0 === 90 && h1 === 270)
  if (fits) return null
  return `horizontal angles: ${h0} to ${h1} does not fit; expected 0 alone, 0 to 90, 0 to 180, 0 to more than 180 and at most 360, or 90 to 270.`
}

export interface ExpandedPlanes {
  symmetry: Symmetry
  horizontalDeg: number[]
  rows: (readonly number[])[]
  notes: string[]
}

/** Expands the planes to the whole turn, [0, 360). */
export function expandPlanes(
  horizontal: readonly number[],
  rows: readonly (readonly number[])[],
  edition: number,
): ExpandedPlanes {
  const [first, last] = [horizontal[0]!, horizontal.at(-1)!]
  const notes: string[] = []
  let symmetry: Symmetry = 'none'
  let images = (h: number): number[] => [h]
  if (last === 0) symmetry = 'axial'
  else if (first === 90) {
    symmetry = 'plane 90-270'
    images = (h) => [h, 540 - h]
    if (edition !== 1995)
      notes.push('Horizontal angles from 90 to 270 were allowed in 1995 only; read as that edition says.')
  } else if (last === 90) {
    symmetry = 'quadrant'
    images = (h) => [h, 180 - h, 180 + h, 360 - h]
  } else if (last === 180) {
    symmetry = 'plane 0-180'
    images = (h) => [h, 360 - h]
  }
  const planes = new Map<number, readonly number[]>()
  for (const [i, h] of horizontal.entries()) {
    for (const image of images(h)) {
      const at = Math.round((image % 360) * 1e6) / 1e6
      if (!planes.has(at)) planes.set(at, rows[i]!)
      else if (h === 360 && differ(planes.get(at)!, rows[i]!))
        notes.push('Its planes at 0 and 360 are the same direction and differ; that at 0 is used.')
    }
  }
  const horizontalDeg = [...planes.keys()].sort((a, b) => a - b)
  return { symmetry, horizontalDeg, rows: horizontalDeg.map((h) => planes.get(h)!), notes }
}

const differ = (a: readonly number[], b: readonly number[]): boolean => {
  const most = Math.max(...a, ...b)
  return a.some((v, i) => Math.abs(v - b[i]!) > 0.01 * most)
}
