// What single numbers of the lens and the further elements can't say alone: bodies that fit, grooves that can be cut and traced, and room between them.
import { elementsOf, pieceHalves, pieceReachMm } from './assembly.ts'
import { bodyPlanes, conicSag, elementSpan, normalOf, type Point, spanAlong } from './body.ts'
import { LIMITS } from './limits.ts'
import { findLensMaterialFaults } from './materialChecks.ts'
import type { Element, FresnelLens, Lamp, Lens, SolidLens } from './schema.ts'

/** Of the diameter. */
export const SHORTEST_FOCUS = 0.05

export function findElementFaults(lamp: Lamp): string[] {
  const why: string[] = []
  if (lamp.lens) why.push(...elementFaults(lamp, lamp.lens, 'lens', 'the lens'))
  for (const [i, element] of (lamp.elements ?? []).entries())
    why.push(...elementFaults(lamp, element, `elements[${i}]`, `"${element.name}"`))
  return why.length > 0 ? why : overlapFaults(lamp)
}

const round = (x: number) => Math.round(x * 100) / 100

function elementFaults({ tunnel }: Lamp, element: Element | Lens, where: string, name: string): string[] {
  const why: string[] = []
  const [nearZ] = elementSpan(element)
  if (tunnel && nearZ < tunnel.zOutMm)
    why.push(
      `${where}.zMm: ${name} reaches back to ${round(nearZ)} mm, into the tunnel that ends at ${tunnel.zOutMm} mm.`,
    )
  if (nearZ <= 0) why.push(`${where}.zMm: ${name} reaches back to ${round(nearZ)} mm, into the face.`)
  if (element.aperture === 'rectangle' && element.heightMm === undefined)
    why.push(`${where}.heightMm: nothing stands here; expected the height of a rectangle.`)
  if (element.kind === 'fresnel') why.push(...grooveFaults(element, where))
  why.push(...findLensMaterialFaults(element, where))
  if (element.kind === 'solid') why.push(...sagFaults(element, where))
  if (element.kind === 'diffuser' && element.transmittance + element.reflectance > 1 + 1e-9)
    why.push(`${where}.reflectance: ${element.reflectance} does not fit; with the transmittance it is over 1.`)
  return why
}

function grooveFaults(lens: FresnelLens, where: string): string[] {
  const why: string[] = []
  const { round: circle, xMm, yMm } = pieceHalves(lens)
  const onAxis = (lens.centreXMm ?? 0) === 0 && (lens.centreYMm ?? 0) === 0
  const across = onAxis && (circle || xMm === yMm) ? lens.diameterMm : 2 * pieceReachMm(lens)
  if (across / (2 * lens.pitchMm) > LIMITS.rings)
    why.push(`${where}.pitchMm: ${lens.pitchMm} gives over ${LIMITS.rings} grooves.`)
  // Light in the grooves of a shorter one turns back and forth without end (tests/fuzz/extreme.test.ts).
  if (lens.focalMm < SHORTEST_FOCUS * across)
    why.push(
      `${where}.focalMm: ${lens.focalMm} does not fit; expected at least ${round(SHORTEST_FOCUS * across)}, a twentieth of the diameter.`,
    )
  return why
}

function sagFaults(lens: SolidLens, where: string): string[] {
  const reach = pieceReachMm(lens)
  const sag = conicSag(reach, lens.radiusMm, lens.conic)
  if (sag < lens.thicknessMm) return []
  const needs = Number.isFinite(sag) ? round(sag) : 'it can have'
  return [
    `${where}.thicknessMm: ${lens.thicknessMm} does not fit; a curve of ${lens.radiusMm} mm over ${round(2 * reach)} mm needs more than ${needs}.`,
  ]
}

/** Of neighbours one must lie wholly before the other's plane: before the front of the one, or behind the back of the other. */
function overlapFaults(lamp: Lamp): string[] {
  const all = elementsOf(lamp)
  return all.flatMap((next, i) => {
    const before = all[i - 1]
    if (!before || isBefore(before, next)) return []
    const where = next.isLens ? 'lens' : `elements[${(lamp.elements ?? []).findIndex((e) => e.name === next.name)}]`
    return [`${where}.zMm: "${next.name}" reaches into "${before.name}".`]
  })
}

const TOUCH_MM = 1e-6
function isBefore(a: Element, b: Element): boolean {
  const planeAt = (e: Element, n: Point, z: number) =>
    (e.decentreXMm ?? 0) * n[0] + (e.decentreYMm ?? 0) * n[1] + e.zMm * n[2] + z
  const [na, nb] = [normalOf(a), normalOf(b)]
  return (
    spanAlong(a, nb)[1] <= planeAt(b, nb, bodyPlanes(b)[0]) + TOUCH_MM ||
    spanAlong(b, na)[0] >= planeAt(a, na, bodyPlanes(a)[1]) - TOUCH_MM
  )
}
