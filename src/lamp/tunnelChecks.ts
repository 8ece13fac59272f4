// What single numbers of a tunnel can't say alone: stretches that follow one another, sections of one kind, tables that rise.
import { isRectangle } from './assembly.ts'
import { LIMITS } from './limits.ts'
import type { Lamp, Tunnel } from './schema.ts'

export function findTunnelFaults({ tunnel }: Lamp): string[] {
  if (!tunnel) return []
  const why: string[] = []
  if (tunnel.zOutMm <= tunnel.zInMm)
    why.push(`tunnel.zOutMm: ${tunnel.zOutMm} does not fit; expected more than tunnel.zInMm (${tunnel.zInMm}).`)
  else why.push(...jointFaults(tunnel))
  if (isRectangle(tunnel) && tunnel.sides !== 4)
    why.push(`tunnel.sides: ${tunnel.sides} does not fit; a rectangle has 4, or leave out tunnel.inHeightMm.`)
  if (isRectangle(tunnel) && tunnel.outHeightMm === undefined)
    why.push('tunnel.outHeightMm: nothing stands here; expected the height at the other end of a rectangle.')
  if (!isRectangle(tunnel)) why.push(...strayHeights(tunnel))
  why.push(...tableFaults(tunnel.reflectanceByNm, 'tunnel'))
  for (const [i, joint] of (tunnel.joints ?? []).entries())
    why.push(...tableFaults(joint.reflectanceByNm, `tunnel.joints[${i}]`))
  return why
}

/** Each joint above the one before, by so much that a slope is a number. */
function jointFaults({ zInMm, zOutMm, joints = [] }: Tunnel): string[] {
  const why: string[] = []
  let below = zInMm
  for (const [i, { zMm }] of joints.entries()) {
    if (!(zMm >= below + LEAST_MM && zMm <= zOutMm - LEAST_MM))
      why.push(
        `tunnel.joints[${i}].zMm: ${zMm} does not fit; expected between ${below} and tunnel.zOutMm (${zOutMm}), by at least ${LEAST_MM} to either side.`,
      )
    below = Math.max(below, zMm)
  }
  return why
}
/** Single precision still tells the ends of such a stretch apart 10 m away. */
const LEAST_MM = 0.01

const HEIGHTS = ['belowHeightMm', 'aboveHeightMm'] as const

function strayHeights({ outHeightMm, joints = [] }: Tunnel): string[] {
  const say = (where: string) => `${where}: only of a rectangle, which has tunnel.inHeightMm.`
  return [
    ...(outHeightMm === undefined ? [] : [say('tunnel.outHeightMm')]),
    ...joints.flatMap((joint, i) =>
      HEIGHTS.flatMap((key) => (joint[key] === undefined ? [] : [say(`tunnel.joints[${i}].${key}`)])),
    ),
  ]
}

function tableFaults(rows: Tunnel['reflectanceByNm'], where: string): string[] {
  let below = -Infinity
  return (rows ?? []).flatMap(({ nm }, i) => {
    const rises = nm >= below + LIMITS.tableStep
    below = nm
    return rises ? [] : [`${where}.reflectanceByNm[${i}].nm: ${nm} does not fit; the column must rise.`]
  })
}
