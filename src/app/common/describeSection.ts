// Describes the lamp for screen readers.
import type { Lamp } from '../../lamp/schema.ts'
import { faceText } from '../../report/faceText.ts'
import { lengthText } from './lengthText.ts'
import { focusZMm, lensWords } from './lensProfile.ts'

/** Text alternative of the section. */
export function describeSection(lamp: Lamp): string {
  const { face, tunnel, lens } = lamp
  const parts = [`${lamp.name}, cut along its axis, light going from left to right.`]
  parts.push(`${faceText(face)}, with ${lamp.boards.length} boards.`)
  if (tunnel) {
    parts.push(
      `Tunnel ${tunnel.sides === 0 ? 'round' : `of ${tunnel.sides} sides`}, from ${lengthText(tunnel.inMm)} at ${lengthText(tunnel.zInMm)} to ${lengthText(tunnel.outMm)} at ${lengthText(tunnel.zOutMm)} from the face.`,
    )
  } else parts.push('No tunnel.')
  if (lens) {
    const behind = focusZMm(lens)
    parts.push(
      `${lensWords(lens)}, ${lengthText(lens.diameterMm)}, at ${lengthText(lens.zMm)}; its focus lies ${lengthText(Math.abs(behind))} ${behind < 0 ? 'behind' : 'before'} the face.`,
    )
  } else parts.push('No lens.')
  return parts.join(' ')
}
