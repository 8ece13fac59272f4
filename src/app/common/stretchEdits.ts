// Edits of a tunnel's stretches: split, merge, move, size, line. Each gives a tunnel whose joints rise between its ends.
import { type Finish, isRectangle, type Stretch, stretchesOf } from '../../lamp/assembly.ts'
import { LIMITS } from '../../lamp/limits.ts'
import type { Joint, Tunnel } from '../../lamp/schema.ts'
import { roundMm } from './lengthText.ts'

/** Least length of a stretch that an edit leaves; less where there are too many of them. */
const LEAST_MM = 1

/** Along x (width, diameter, across flats) or, of a rectangle, along y. */
export type Along = 'x' | 'y'

const FINISH_KEYS = ['reflectance', 'specularShare', 'scatterDeg', 'reflectanceByNm', 'finish'] as const

const finishOf = (of: Finish): Finish => {
  const { reflectance, specularShare, scatterDeg, reflectanceByNm, finish } = of
  return {
    ...{ reflectance, specularShare, scatterDeg },
    ...(reflectanceByNm ? { reflectanceByNm } : {}),
    ...(finish === undefined ? {} : { finish }),
  }
}

const withoutFinish = <T extends object>(of: T): T =>
  Object.fromEntries(Object.entries(of).filter(([key]) => !(FINISH_KEYS as readonly string[]).includes(key))) as T

/** No joints: the tunnel has no such entry, as one that was never split. */
function withJoints(tunnel: Tunnel, joints: readonly Joint[]): Tunnel {
  const { joints: _, ...rest } = tunnel
  return joints.length > 0 ? { ...rest, joints: [...joints] } : rest
}

const jointsOf = (tunnel: Tunnel): readonly Joint[] => tunnel.joints ?? []

/** Cuts stretch `at` (counted from the face) in two of the same wall and lining; zMm absent: in its middle. */
export function splitStretch(tunnel: Tunnel, at: number, zMm?: number): Tunnel {
  const of = stretchesOf(tunnel)[at]
  const joints = jointsOf(tunnel)
  if (!of || joints.length >= LIMITS.joints) return tunnel
  const z = roundMm(zMm ?? (of.zInMm + of.zOutMm) / 2)
  if (!(z > of.zInMm && z < of.zOutMm)) return tunnel
  const share = (z - of.zInMm) / (of.zOutMm - of.zInMm)
  const between = (from: number, to: number) => Math.round(10 * (from + share * (to - from))) / 10
  const wide = between(of.inMm, of.outMm)
  const tall = between(of.inHeightMm, of.outHeightMm)
  const joint: Joint = {
    zMm: z,
    belowMm: wide,
    aboveMm: wide,
    ...(isRectangle(tunnel) ? { belowHeightMm: tall, aboveHeightMm: tall } : {}),
    ...finishOf(of),
  }
  return withJoints(tunnel, joints.toSpliced(at, 0, joint))
}

/** One stretch more: the longest is split. */
export function addStretch(tunnel: Tunnel): Tunnel {
  const lengths = stretchesOf(tunnel).map((s) => s.zOutMm - s.zInMm)
  return splitStretch(tunnel, lengths.indexOf(Math.max(...lengths)))
}

/** Stretch `at` goes, and its neighbour nearer to the face (of the first: the one above) runs on, straight, over its length. */
export function removeStretch(tunnel: Tunnel, at: number): Tunnel {
  const joints = jointsOf(tunnel)
  if (joints.length === 0 || at < 0 || at > joints.length) return tunnel
  if (at > 0) return withJoints(tunnel, joints.toSpliced(at - 1, 1))
  const survivor = finishOf(joints[0]!)
  return withJoints({ ...withoutFinish(tunnel), ...survivor }, joints.slice(1))
}

/** Joint `at` at a height, wherever that is: past a neighbour it is no tunnel, which the document's checks say. */
export const placeJoint = (tunnel: Tunnel, at: number, zMm: number): Tunnel =>
  withJoints(
    tunnel,
    jointsOf(tunnel).map((j, i) => (i === at ? { ...j, zMm } : j)),
  )

/** Joint `at` moved, no further than its neighbours. */
export function moveJoint(tunnel: Tunnel, at: number, zMm: number): Tunnel {
  const joints = jointsOf(tunnel)
  const range = jointRange(tunnel, at)
  if (!range) return tunnel
  const z = roundMm(Math.min(range.maxMm, Math.max(range.minMm, zMm)))
  return withJoints(
    tunnel,
    joints.map((j, i) => (i === at ? { ...j, zMm: z } : j)),
  )
}

/** How far a joint can be moved. */
export function jointRange(tunnel: Tunnel, at: number): { minMm: number; maxMm: number } | null {
  const joints = jointsOf(tunnel)
  const joint = joints[at]
  if (!joint) return null
  const below = joints[at - 1]?.zMm ?? tunnel.zInMm
  const above = joints[at + 1]?.zMm ?? tunnel.zOutMm
  const least = Math.min(LEAST_MM, (above - below) / 2)
  return { minMm: Math.min(joint.zMm, below + least), maxMm: Math.max(joint.zMm, above - least) }
}

/** The tunnel with other ends. Joints stay where they are; those that an end would pass are pushed ahead of it. */
export function moveEnds(tunnel: Tunnel, ends: Partial<Pick<Tunnel, 'zInMm' | 'zOutMm'>>): Tunnel {
  const moved = { ...tunnel, ...ends }
  const joints = jointsOf(tunnel)
  if (joints.length === 0 || !(moved.zOutMm > moved.zInMm)) return moved
  const least = Math.min(LEAST_MM, (moved.zOutMm - moved.zInMm) / (joints.length + 1))
  return withJoints(
    moved,
    joints.map((j, i) => ({
      ...j,
      zMm: roundMm(
        Math.min(moved.zOutMm - least * (joints.length - i), Math.max(moved.zInMm + least * (i + 1), j.zMm)),
      ),
    })),
  )
}

type EndKeys = Record<Along, 'inMm' | 'inHeightMm'>
const IN: EndKeys = { x: 'inMm', y: 'inHeightMm' }
const OUT = { x: 'outMm', y: 'outHeightMm' } as const
const BELOW = { x: 'belowMm', y: 'belowHeightMm' } as const
const ABOVE = { x: 'aboveMm', y: 'aboveHeightMm' } as const

/** Whether the wall jumps at joint `at`. */
export const hasStep = (joint: Joint): boolean =>
  joint.belowMm !== joint.aboveMm || joint.belowHeightMm !== joint.aboveHeightMm

/** Sizes at a joint in one direction. */
export const jointSizes = (j: Joint, along: Along): { belowMm: number; aboveMm: number } =>
  along === 'x'
    ? { belowMm: j.belowMm, aboveMm: j.aboveMm }
    : { belowMm: j.belowHeightMm ?? j.belowMm, aboveMm: j.aboveHeightMm ?? j.aboveMm }

/** Size of stretch `at` at one of its ends. Without a step there, the neighbour keeps to it. */
export function sizeStretch(tunnel: Tunnel, at: number, end: 'in' | 'out', along: Along, mm: number): Tunnel {
  const joints = jointsOf(tunnel)
  const k = end === 'in' ? at - 1 : at
  const joint = joints[k]
  if (!joint) return { ...tunnel, [(end === 'in' ? IN : OUT)[along]]: mm }
  const sides = hasStep(joint) ? [end === 'in' ? ABOVE[along] : BELOW[along]] : [BELOW[along], ABOVE[along]]
  return withJoints(
    tunnel,
    joints.map((j, i) => (i === k ? { ...j, ...Object.fromEntries(sides.map((key) => [key, mm])) } : j)),
  )
}

/** A tenth wider above when a step is begun, so that it is seen; without: the upper stretch begins as the lower one ends. */
export function stepJoint(tunnel: Tunnel, at: number, on: boolean): Tunnel {
  const wider = (mm: number) => Math.min(LIMITS.lensMm, Math.max(mm + 1, Math.round(mm * 1.1)))
  return withJoints(
    tunnel,
    jointsOf(tunnel).map((j, i) => {
      if (i !== at || hasStep(j) === on) return j
      const above = (mm: number) => (on ? wider(mm) : mm)
      return {
        ...j,
        aboveMm: above(j.belowMm),
        ...(j.belowHeightMm === undefined ? {} : { aboveHeightMm: above(j.belowHeightMm) }),
      }
    }),
  )
}

/** What stretch `at` is lined with; an entry given as undefined is taken away. */
export function lineStretch(
  tunnel: Tunnel,
  at: number,
  finish: { [K in keyof Finish]?: Finish[K] | undefined },
): Tunnel {
  const put = <T extends object>(of: T): T =>
    Object.fromEntries(Object.entries({ ...of, ...finish }).filter(([, value]) => value !== undefined)) as T
  if (at === 0) return put(tunnel)
  return withJoints(
    tunnel,
    jointsOf(tunnel).map((j, i) => (i === at - 1 ? put(j) : j)),
  )
}

export type SectionShape = 'round' | 'polygon' | 'rectangle'

export const shapeOf = (tunnel: Tunnel): SectionShape =>
  isRectangle(tunnel) ? 'rectangle' : tunnel.sides === 0 ? 'round' : 'polygon'

/** The tunnel with another cross-section; a rectangle begins as a square, others take its widths. */
export function withShape(tunnel: Tunnel, shape: SectionShape): Tunnel {
  if (shape === shapeOf(tunnel)) return tunnel
  const { inHeightMm: _i, outHeightMm: _o, ...plain } = tunnel
  const joints = jointsOf(tunnel).map(({ belowHeightMm: _b, aboveHeightMm: _a, ...j }) => j)
  if (shape !== 'rectangle') return withJoints({ ...plain, sides: shape === 'round' ? 0 : 6 }, joints)
  return withJoints(
    { ...plain, sides: 4, inHeightMm: tunnel.inMm, outHeightMm: tunnel.outMm },
    joints.map((j) => ({ ...j, belowHeightMm: j.belowMm, aboveHeightMm: j.aboveMm })),
  )
}

/** Sizes of a stretch across the axis in one direction. */
export const sizesOf = (of: Stretch, along: Along): { inMm: number; outMm: number } =>
  along === 'x' ? { inMm: of.inMm, outMm: of.outMm } : { inMm: of.inHeightMm, outMm: of.outHeightMm }
