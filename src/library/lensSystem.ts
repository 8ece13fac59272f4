// All of a lamp's lenses together, on their axes: what focal length they have, and where light from far away comes together behind them.
import { elementsOf, labelOf, mappedElement, pieceHalves, type RowElement, stretchesOf } from '../lamp/assembly.ts'
import { placeEmitters } from '../lamp/place.ts'
import type { Element, Lamp } from '../lamp/schema.ts'
import { lensFocalMm } from './lensMaterial.ts'

export type LensElement = Exclude<RowElement, { kind: 'cover' | 'diffuser' }>

/** The lamp's lenses by the z that light from the face meets first: the lens itself and those among its elements. */
export const lensesOf = (lamp: Lamp): LensElement[] =>
  elementsOf(lamp).filter((e): e is LensElement => e.kind !== 'cover' && e.kind !== 'diffuser')

/** Of a wall that sends back less than this as a mirror no image of the sun comes (our choice). */
const MIRROR = 0.05

/** What of the lamp can gather sunlight: its lenses, else a tunnel whose walls mirror, else small optics on its emitters; null: nothing. */
export function sunGatherer(lamp: Lamp): 'lens' | 'tunnel' | 'optics' | null {
  if (lensesOf(lamp).length > 0) return 'lens'
  if (lamp.tunnel && stretchesOf(lamp.tunnel).some((s) => s.specularShare * s.reflectance > MIRROR)) return 'tunnel'
  return placeEmitters(lamp).some(({ optic }) => optic.kind !== 'bare') ? 'optics' : null
}

/** What is covered, laid down, or touched: “lens”, or “front” of a lamp without any. */
export const frontWord = (lamp: Lamp): 'lens' | 'front' => (lensesOf(lamp).length > 0 ? 'lens' : 'front')

/** The same lamp without its lenses; covers and films stay. Null: it has none. */
export function withoutLenses(lamp: Lamp): Lamp | null {
  if (lensesOf(lamp).length === 0) return null
  const { elements, ...rest } = lamp
  const panes = (elements ?? []).filter((e) => e.kind === 'cover' || e.kind === 'diffuser')
  return { ...rest, lens: null, ...(panes.length > 0 ? { elements: panes } : {}) }
}

/** What a comparison without lenses leaves out, and what stays in front of the lamp. */
export interface LensesLeftOut {
  lenses: number
  covers: number
  films: number
}

/** Null: the lamp has no lens. */
export function lensesLeftOut(lamp: Lamp): LensesLeftOut | null {
  const lenses = lensesOf(lamp).length
  const count = (kind: Element['kind']) => lamp.elements?.filter((e) => e.kind === kind).length ?? 0
  return lenses === 0 ? null : { lenses, covers: count('cover'), films: count('diffuser') }
}

/** What the run's map of the lens is of, in a sentence: the lens, or without one the element that light meets first. */
export function mappedWords(lamp: Lamp): string {
  const lit = mappedElement(lamp)
  return lit ? elementWords(lit) : 'the lens'
}

export interface LensSystem {
  lenses: readonly [LensElement, ...LensElement[]]
  /** Of all together; of one lens its own. */
  focalMm: number
  /** z where light from far ahead comes together behind them. */
  focusZMm: number
  /** Half the width of the narrowest. */
  halfMm: number
}

/**
 * Focal length and focus (mm, lamp frame) of thin lenses one behind the other, by a paraxial ray from the target, parallel to the axis:
 * u' = u − y/f, y' = y + u d (textbook). Null without lenses, and where that ray leaves them parallel or apart from the axis.
 */
export function lensSystem(lamp: Lamp): LensSystem | null {
  const [first, ...others] = lensesOf(lamp)
  if (!first) return null
  const lenses = [first, ...others] as const
  const halfMm = lenses.reduce((least, lens) => {
    const { xMm, yMm } = pieceHalves(lens)
    return Math.min(least, Math.max(xMm, yMm))
  }, Number.POSITIVE_INFINITY)
  if (others.length === 0) {
    const focalMm = lensFocalMm(first)
    return { lenses: [first], focalMm, focusZMm: first.zMm - focalMm, halfMm }
  }
  let [y, u, z] = [1, 0, (others.at(-1) ?? first).zMm]
  for (const lens of [...lenses].reverse()) {
    y += u * (z - lens.zMm)
    z = lens.zMm
    u -= y / lensFocalMm(lens)
  }
  return u < -1e-9 ? { lenses: [...lenses], focalMm: -1 / u, focusZMm: z + y / u, halfMm } : null
}

/** “the lens”, or an element by its name, and where it stands if another has the same. */
export const elementWords = (e: Pick<RowElement, 'name' | 'isLens' | 'where'>): string =>
  e.isLens ? 'the lens' : `“${labelOf(e)}”`
