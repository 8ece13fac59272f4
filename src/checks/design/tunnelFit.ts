// Emitters and the tunnel's wall: light emitted outside the tunnel is lost, and a tunnel smaller than the array vignettes its rim.

import type { Lamp, Tunnel } from '../../lamp/schema.ts'
import { pastWallMm } from '../../lamp/section.ts'
import type { Finding } from '../finding.ts'
import { type EmissionPoint, emissionPoints } from '../optics.ts'
import { counted, mm, mmAtLeast } from '../words.ts'

export function outsideTunnel(lamp: Lamp): Finding[] {
  const { tunnel } = lamp
  if (!tunnel) return []
  const out = emissionPoints(lamp).filter(
    (s) => s.zMm >= tunnel.zInMm && s.zMm < tunnel.zOutMm && pastWallMm(tunnel, s) > 0,
  )
  if (out.length === 0) return []
  return [
    {
      rule: 'emitter-outside-tunnel',
      severity: 'severe',
      title:
        out.length === 1
          ? 'One emitter starts outside the tunnel’s wall: all of its light is lost.'
          : `${out.length} emitters start outside the tunnel’s wall: all of their light is lost.`,
      why: `The wall stands between the emitter and the target from ${mm(tunnel.zInMm)} above the face on. The flux is booked as blocked and heats the lamp.`,
      cure: 'Move the board inwards, or make the inlet of the tunnel wider.',
      place: emitterPlace(out[0]!),
    },
  ]
}

/** By the edge of the optics; emitters entirely outside the wall are covered by the other rule. */
export function smallTunnel(lamp: Lamp): Finding[] {
  const { tunnel } = lamp
  if (!tunnel) return []
  const cut = emissionPoints(lamp).flatMap((s) => {
    const centreOver = pastWallMm(tunnel, s)
    const isCut = s.zMm < tunnel.zOutMm && centreOver + s.radiusMm > 0.01 && !(s.zMm >= tunnel.zInMm && centreOver > 0)
    return isCut ? [{ ...s, centreOver }] : []
  })
  if (cut.length === 0) return []
  const worst = cut.reduce((a, b) => (b.centreOver + b.radiusMm > a.centreOver + a.radiusMm ? b : a))
  const over = worst.centreOver + worst.radiusMm
  const beyond = cut.some((s) => s.centreOver > 0)
  return [
    {
      rule: 'tunnel-smaller-than-array',
      severity: beyond ? 'severe' : 'warning',
      title: `The tunnel’s inlet of ${inletWords(tunnel)} is smaller than the array: ${counted(cut.length, 'emitter')} reach${cut.length === 1 ? 'es' : ''} up to ${mmAtLeast(over)} past it.`,
      why: beyond
        ? 'Whole emitters lie outside the inlet: most of their light never enters the tunnel.'
        : 'The edge of their optics lies outside the wall: that part of their light is lost and heats the inlet.',
      cure: `Make the inlet ${tunnel.inHeightMm === undefined ? `at least ${mmAtLeast(tunnel.inMm + 2 * over)} wide` : `${mmAtLeast(2 * over)} wider and higher`}, or move the outer boards inwards.`,
      place: emitterPlace(worst),
    },
  ]
}

const inletWords = ({ inMm, inHeightMm }: Tunnel): string =>
  inHeightMm === undefined ? mm(inMm) : `${mm(inMm)} × ${mm(inHeightMm)}`

const emitterPlace = (s: EmissionPoint) =>
  ({ kind: 'emitter', boardIndex: s.boardIndex, siteIndex: s.siteIndex }) satisfies Finding['place']
