// The sun map in polar form: rings are tilts from the axis, sectors are azimuths.
import { upperKWm2 } from '../../hazard/discs.ts'
import type { SunMapPoint } from '../../hazard/sunMap.ts'
import { criticalAt, ignitionMaterial } from '../../library/ignition.ts'
import { toDigits } from '../common/format.ts'
import { rampCss } from '../common/ramp.ts'
import { upTo } from './model/words.ts'

const SIZE = 270
const OUT = 118
const MID = SIZE / 2

/** Rings are spaced by index, not by degrees, since small tilts are the dangerous ones. */
const ringOf = (tilts: readonly number[], tiltDeg: number): [number, number] => {
  const k = tilts.indexOf(tiltDeg)
  return [(OUT * k) / tilts.length, (OUT * (k + 1)) / tilts.length]
}

const at = (radius: number, azimuthDeg: number): string => {
  const turn = (azimuthDeg * Math.PI) / 180
  return `${(MID + radius * Math.cos(turn)).toFixed(1)} ${(MID - radius * Math.sin(turn)).toFixed(1)}`
}

function sector([from, to]: [number, number], azimuthDeg: number, widthDeg: number): string {
  if (widthDeg >= 360)
    return `M${at(to, 0)}A${to} ${to} 0 1 0 ${at(to, 180)}A${to} ${to} 0 1 0 ${at(to, 0)}M${at(from, 0)}A${from} ${from} 0 1 1 ${at(from, 180)}A${from} ${from} 0 1 1 ${at(from, 0)}Z`
  const [a, b] = [azimuthDeg - widthDeg / 2, azimuthDeg + widthDeg / 2]
  return `M${at(from, a)}L${at(to, a)}A${to} ${to} 0 0 0 ${at(to, b)}L${at(from, b)}A${from} ${from} 0 0 1 ${at(from, a)}Z`
}

export function SunRose({ points, ambientC }: { points: readonly SunMapPoint[]; ambientC: number }) {
  const tilts = [...new Set(points.map((p) => p.tiltDeg))].sort((a, b) => a - b)
  // No more than five labels find room along the radius.
  const labelEvery = Math.max(1, Math.ceil(tilts.length / 5))
  const top = Math.max(...points.map(upperKWm2))
  const plastic = criticalAt(ignitionMaterial('abs'), ambientC)
  const cells = points.map((p) => {
    const many = points.filter((q) => q.tiltDeg === p.tiltDeg).length
    return { p, d: sector(ringOf(tilts, p.tiltDeg), p.azimuthDeg, 360 / many) }
  })
  const share = (p: SunMapPoint) => 1 + Math.log10(Math.max(1e-9, upperKWm2(p) / top)) / 3
  const worst = points.reduce((a, b) => (upperKWm2(b) > upperKWm2(a) ? b : a))
  return (
    <svg
      className="danger-rose"
      viewBox={`0 0 ${SIZE} ${SIZE}`}
      role="img"
      aria-label={`Sun from every side: worst with the sun ${toDigits(worst.tiltDeg)}° off the axis, up to ${upTo(upperKWm2(worst))}. The table tells each tilt.`}
    >
      <defs>
        <pattern
          id="danger-rose-hatch"
          width="6"
          height="6"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <rect width="1.6" height="6" fill="#11171a" />
        </pattern>
      </defs>
      {cells.map(({ p, d }) => (
        <g key={d}>
          <path d={d} fill={rampCss(share(p))} className="danger-rose-cell">
            <title>{`${toDigits(p.tiltDeg)}° off, from ${Math.round(p.azimuthDeg)}°: ${upTo(upperKWm2(p))}`}</title>
          </path>
          {upperKWm2(p) >= plastic && <path d={d} fill="url(#danger-rose-hatch)" pointerEvents="none" />}
        </g>
      ))}
      {tilts.map((tilt, k) =>
        k % labelEvery === 0 ? (
          <text key={tilt} x={MID + (OUT * (k + 0.5)) / tilts.length} y={MID + 4} textAnchor="middle">
            {toDigits(tilt)}°
          </text>
        ) : null,
      )}
      <text x={SIZE - 2} y={MID - 8} textAnchor="end">
        +x
      </text>
      <text x={MID} y={12} textAnchor="middle">
        +y
      </text>
    </svg>
  )
}
