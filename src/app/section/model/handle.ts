// What a handle of the section is.
import type { Tunnel } from '../../../lamp/schema.ts'
import type { Cut } from '../../common/cut.ts'

export type HandleName =
  | 'inletZ'
  | 'inletSize'
  | 'outletZ'
  | 'outletSize'
  | 'lensZ'
  | 'lensSize'
  | 'lensDecentre'
  | `joint${number}${'Z' | 'Size' | 'Step'}`
  | `element${number}Z`

export interface Handle {
  name: HandleName
  part: 'inlet' | 'outlet' | 'joint' | 'lens' | 'element'
  /** Accessible name. */
  label: string
  /** For the undo list. */
  edit: string
  along: 'z' | 'r'
  valueMm: number
  minMm: number
  maxMm: number
  /** Where it sits on the drawing. */
  zMm: number
  rMm: number
  /** Change of the value for each mm of the drawing that the pointer moves along. */
  slope: 1 | 2
  /** r of what it moves, for the lines drawn through while it is held; along z none. */
  edgesMm: readonly number[]
}

/** What a size across the axis is called in the plane of the section. */
export function sizeWords(tunnel: Tunnel, cut: Cut): string {
  if (tunnel.inHeightMm !== undefined) return cut === 'upright' ? 'height' : 'width'
  return tunnel.sides === 0 ? 'diameter' : 'size across flats'
}
