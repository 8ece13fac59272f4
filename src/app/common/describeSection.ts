// Describes the lamp for screen readers.
import type { Lamp, Tunnel } from '../../lamp/schema.ts'
import { faceText } from '../../report/faceText.ts'
import { lengthText } from './lengthText.ts'
import { lensWords } from './lensProfile.ts'
import { focusOf } from './pieceCut.ts'
import { shapeOf } from './stretchEdits.ts'

/** Text alternative of the section. */
export function describeSection(lamp: Lamp): string {
  const { face, tunnel, lens } = lamp
  const parts = [`${lamp.name}, cut along its axis, light going from left to right.`]
  parts.push(`${faceText(face)}, with ${lamp.boards.length} boards.`)
  if (tunnel) {
    parts.push(
      `Tunnel ${shapeWords(tunnel)}, from ${sizeText(tunnel.inMm, tunnel.inHeightMm)} at ${lengthText(tunnel.zInMm)} to ${sizeText(tunnel.outMm, tunnel.outHeightMm)} at ${lengthText(tunnel.zOutMm)} from the face.`,
    )
    const joints = tunnel.joints?.length ?? 0
    if (joints > 0) parts.push(`It has ${joints + 1} stretches.`)
  } else parts.push('No tunnel.')
  if (lens) {
    const behind = focusOf(lens)[2]
    parts.push(
      `${lensWords(lens)}, ${sizeText(lens.diameterMm, lens.heightMm)}, at ${lengthText(lens.zMm)}; its focus lies ${lengthText(Math.abs(behind))} ${behind < 0 ? 'behind' : 'before'} the face.`,
    )
  } else parts.push('No lens.')
  for (const e of lamp.elements ?? []) parts.push(`${e.name} at ${lengthText(e.zMm)}.`)
  return parts.join(' ')
}

const sizeText = (wideMm: number, highMm: number | undefined): string =>
  highMm === undefined ? lengthText(wideMm) : `${lengthText(wideMm)} × ${lengthText(highMm)}`

const shapeWords = (tunnel: Tunnel): string =>
  shapeOf(tunnel) === 'polygon' ? `of ${tunnel.sides} sides` : shapeOf(tunnel) === 'round' ? 'round' : 'rectangular'
