// Handles of the joints between the tunnel's stretches: along the axis, both sizes together, and the step by itself.
import { LIMITS } from '../../../lamp/limits.ts'
import type { Tunnel } from '../../../lamp/schema.ts'
import { alongOf, type Cut, tunnelHalf } from '../../common/cut.ts'
import { roundMm } from '../../common/lengthText.ts'
import { type Along, hasStep, jointRange, jointSizes, moveJoint } from '../../common/stretchEdits.ts'
import { type Handle, type HandleName, sizeWords } from './handle.ts'

/** A profile of more is drawn without handles: they would hide it. */
const MOST_JOINTS = 8

export function jointHandles(tunnel: Tunnel, cut: Cut): Handle[] {
  const joints = tunnel.joints ?? []
  if (joints.length > MOST_JOINTS) return []
  return joints.flatMap((joint, i): Handle[] => {
    const { belowMm, aboveMm } = jointSizes(joint, alongOf(cut))
    const half = (mm: number, side: 1 | -1) => side * tunnelHalf(tunnel, mm, cut, side)
    const name = joints.length === 1 ? 'Joint' : `Joint ${i + 1}`
    const words = sizeWords(tunnel, cut)
    const range = jointRange(tunnel, i) ?? { minMm: joint.zMm, maxMm: joint.zMm }
    const at = { part: 'joint', zMm: joint.zMm } as const
    const least = Math.min(belowMm, aboveMm)
    return [
      {
        ...at,
        name: `joint${i}Z`,
        label: `${name} of the tunnel, distance from the face`,
        edit: `Move ${name.toLowerCase()} of the tunnel`,
        along: 'z',
        ...{ valueMm: joint.zMm, ...range, rMm: half(Math.max(belowMm, aboveMm), -1), slope: 1, edgesMm: [] },
      },
      {
        ...at,
        name: `joint${i}Size`,
        label: `${name} of the tunnel, ${words}${hasStep(joint) ? ' below, the step stays' : ''}`,
        edit: `Size ${name.toLowerCase()} of the tunnel`,
        along: 'r',
        ...{ valueMm: belowMm, minMm: 1 + belowMm - least, maxMm: LIMITS.lensMm - Math.max(0, aboveMm - belowMm) },
        ...{ rMm: half(belowMm, 1), slope: 2, edgesMm: [half(belowMm, 1), half(belowMm, -1)] },
      },
      ...(hasStep(joint)
        ? [
            {
              ...at,
              name: `joint${i}Step` as const,
              label: `${name} of the tunnel, ${words} above the step`,
              edit: `Size the step of ${name.toLowerCase()}`,
              along: 'r' as const,
              ...{ valueMm: aboveMm, minMm: 1, maxMm: LIMITS.lensMm, slope: 2 as const },
              ...{ rMm: half(aboveMm, 1), edgesMm: [half(aboveMm, 1), half(aboveMm, -1)] },
            },
          ]
        : []),
    ]
  })
}

const NAME = /^joint(\d+)(Z|Size|Step)$/

/** The tunnel with a joint's handle at a value within its range. */
export function withJointHandle(tunnel: Tunnel, name: HandleName, value: number, along: Along): Tunnel {
  const [, number, what] = NAME.exec(name) ?? []
  const at = Number(number)
  const joint = tunnel.joints?.[at]
  if (!joint || !tunnel.joints) return tunnel
  if (what === 'Z') return moveJoint(tunnel, at, value)
  const { belowMm, aboveMm } = jointSizes(joint, along)
  const above = what === 'Step' ? value : roundMm(aboveMm + value - belowMm)
  const below = what === 'Step' ? belowMm : value
  const put = along === 'x' ? { belowMm: below, aboveMm: above } : { belowHeightMm: below, aboveHeightMm: above }
  return { ...tunnel, joints: tunnel.joints.map((j, i) => (i === at ? { ...j, ...put } : j)) }
}
