import { rampCss } from '../common/ramp.ts'
import { rampAt } from './model/plot.ts'

const GRADIENT = `linear-gradient(90deg, ${Array.from({ length: 17 }, (_, i) => rampCss(rampAt(i / 16))).join(', ')})`

/** Legend of the colours and marks. */
export function ScaleBar(p: {
  span: readonly [number, number] | null
  unit: string
  text: (value: number) => string
  leftPx: number
}) {
  return (
    <div className="sweep-legend" style={{ marginLeft: p.leftPx }}>
      {p.span && (
        <p className="sweep-scale">
          <span>{p.text(p.span[0])}</span>
          <i style={{ background: GRADIENT }} />
          <span>
            {p.text(p.span[1])} {p.unit}
          </span>
        </p>
      )}
      <Marks />
    </div>
  )
}

export function Marks({ curve = false }: { curve?: boolean }) {
  return (
    <ul className="sweep-marks">
      <li>
        <i className="sweep-mark-severe" /> severe finding
      </li>
      <li>
        <i className="sweep-mark-none" /> no such lamp
      </li>
      {!curve && (
        <li>
          <svg width="14" height="14" viewBox="-14 -14 28 28" aria-hidden="true">
            <path d="M-12 0H-4M4 0H12M0-12V-4M0 4V12" />
          </svg>{' '}
          the lamp now
        </li>
      )}
    </ul>
  )
}
