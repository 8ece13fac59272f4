// Intensity over the angle from the axis, all lamps on one axis. Lines differ by colour, dashes and letter.
import { COLUMN_LETTERS } from '../../report/compare.ts'
import { scaleOf, toDigits } from '../common/format.ts'
import type { PlotBox } from '../common/plotBox.ts'
import { compare, useCompare } from '../store/compare.ts'
import { Choice } from '../ui/Choice.tsx'
import { profileLines } from './model/profile.ts'

const BOX: PlotBox = { widthPx: 640, heightPx: 210, left: 52, right: 14, top: 18, bottom: 34 }
const SCALES = [
  { key: 'cd', name: 'cd' },
  { key: 'share', name: 'of its peak' },
] as const

export function Profiles() {
  const lamps = useCompare((s) => s.lamps)
  const profile = useCompare((s) => s.profile)
  const lights = lamps.map((l) => l.read?.light ?? null)
  const { paths, xTicks, yTicks } = profileLines(lights, BOX, profile === 'share')
  if (paths.every((p) => p === null)) return null
  const scale = profile === 'share' ? { by: 100, unit: '%' } : scaleOf(yTicks.at(-1)?.value ?? 0, 'cd')
  const foot = BOX.heightPx - BOX.bottom
  return (
    <section className="compare-profiles" aria-labelledby="compare-profiles">
      <header>
        <h3 id="compare-profiles">Profiles</h3>
        <Choice
          label="In"
          segments
          value={profile}
          options={SCALES}
          onChoose={(key) => compare.setState({ profile: key })}
        />
      </header>
      <svg viewBox={`0 0 ${BOX.widthPx} ${BOX.heightPx}`} role="img" aria-label="Profiles of the lamps on one axis">
        {yTicks.map(({ px, value }) => (
          <g key={value} className="compare-tick">
            <line x1={BOX.left} x2={BOX.widthPx - BOX.right} y1={px} y2={px} />
            <text x={BOX.left - 6} y={px + 4} textAnchor="end">
              {toDigits(value * scale.by, 3)}
            </text>
          </g>
        ))}
        {xTicks.map(({ px, deg }) => (
          <text key={deg} className="compare-tick" x={px} y={foot + 16} textAnchor="middle">
            {toDigits(deg, 3)}°
          </text>
        ))}
        <text className="compare-tick" x={BOX.left - 6} y={10} textAnchor="end">
          {scale.unit}
        </text>
        <text className="compare-tick" x={(BOX.left + BOX.widthPx - BOX.right) / 2} y={foot + 31} textAnchor="middle">
          from the axis
        </text>
        {paths.map((d, i) => d && <path key={COLUMN_LETTERS[i]} className="compare-line" data-column={i} d={d} />)}
      </svg>
      <ul className="compare-legend" aria-hidden="true">
        {lamps.map((l, i) => (
          <li key={l.key}>
            <svg width="26" height="8" aria-hidden="true">
              <path className="compare-line" data-column={i} d="M0,4L26,4" />
            </svg>
            {COLUMN_LETTERS[i]} <span translate="no">{l.name}</span>
          </li>
        ))}
      </ul>
    </section>
  )
}
