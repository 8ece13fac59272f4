// The map over the wall: lux by the ramp, a line at half of the most, what is left out striped, and how far it can be trusted.
import { type ReactNode, useEffect, useRef } from 'react'
import { traceContours } from '../../../hazard/contours.ts'
import type { WallMap } from '../../../readings/photo/wallMap.ts'
import { COVERAGE } from '../../../readings/uncertainty.ts'
import { toDigits } from '../../common/format.ts'
import { distanceText } from '../../common/lengthText.ts'
import { rampCss } from '../../common/ramp.ts'
import { redraw } from '../../frame.ts'
import { useUnitSystem } from '../../store/unitSystem.ts'
import { CELL_PX, paintMap } from './paint.ts'
import { cellWords, openWords } from './words.ts'

const GRADIENT = `linear-gradient(90deg, ${Array.from({ length: 17 }, (_, i) => rampCss(i / 16)).join(', ')})`

export function WallPreview({ map, children }: { map: WallMap; children: ReactNode }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const system = useUnitSystem()
  const { columns, rows, cells } = map
  useEffect(() => {
    redraw('photo-map', () => {
      const context = canvas.current?.getContext('2d')
      context?.putImageData(new ImageData(paintMap(map), columns * CELL_PX, rows * CELL_PX), 0, 0)
    })
  }, [map, columns, rows])
  const peak = cells.reduce((a, b) => (b.lx > a.lx ? b : a), cells[0] ?? NO_CELL)
  const half = traceContours(
    {
      columns,
      rows,
      // What is burnt out is brighter than anything read.
      value: (c, r) => lightOf(cells[r * columns + c] ?? NO_CELL, peak.lx),
      place: (c, r) => [c + 0.5, r + 0.5],
    },
    peak.lx / 2,
  )
  const fine = cells.filter((cell) => cell.state === 'fine')
  const least = fine.reduce((a, b) => (b.lx < a.lx ? b : a), fine[0] ?? NO_CELL)
  const doubt = (cell: typeof peak) => `${toDigits(cell.lx, 3)} lx ${openWords(COVERAGE * cell.all)}`
  const [first, last] = [cells[0] ?? NO_CELL, cells.at(-1) ?? NO_CELL]
  const [widthMm, heightMm] = [
    ((first.xMm - last.xMm) * columns) / (columns - 1),
    ((first.yMm - last.yMm) * rows) / (rows - 1),
  ]
  const span = (of: 0 | 1, cellMm: number) => {
    const places = half.flatMap((line) => [...line].filter((_, i) => i % 2 === of))
    return distanceText(places.length > 0 ? cellMm * (Math.max(...places) - Math.min(...places)) : 0, system)
  }
  const across = span(0, widthMm / columns)
  const up = span(1, heightMm / rows)
  return (
    <section className="photo-wall" aria-label="Lux over the wall">
      <h3>Lux over the wall</h3>
      <div className="photo-map" style={{ aspectRatio: `${widthMm} / ${heightMm}` }}>
        <canvas
          ref={canvas}
          width={columns * CELL_PX}
          height={rows * CELL_PX}
          role="img"
          aria-label={`Lux over the wall, brightest ${doubt(peak)}; half of that within ${across} × ${up}`}
        />
        <svg viewBox={`0 0 ${columns} ${rows}`} preserveAspectRatio="none" aria-hidden="true">
          {half.map((line) => (
            <path key={`${line[0]} ${line[1]} ${line.length}`} d={pathOf(line)} className="photo-half" />
          ))}
        </svg>
      </div>
      <p className="photo-scale">
        0 <span className="photo-ramp" style={{ background: GRADIENT }} /> {toDigits(peak.lx, 3)} lx
      </p>
      <p>
        Brightest read: {doubt(peak)}. Half of it (line) within {across} × {up}. Darkest place read: {doubt(least)}.
      </p>
      {cells.some((cell) => cell.state === 'saturated') && (
        <p className="readings-old">
          Burnt-out places are brighter than all that was read: no peak and no angles come of this. Add a shorter
          exposure.
        </p>
      )}
      <p className="readings-quiet">
        {cellWords(map)} As seen from the lamp: its right side (+x) is on the left. ± at about 95 % (k = 2), the meter’s
        own included.
      </p>
      <div className="readings-row">{children}</div>
    </section>
  )
}

const lightOf = ({ state, lx }: Pick<WallMap['cells'][number], 'state' | 'lx'>, most: number): number =>
  state === 'saturated' ? most : lx

const NO_CELL = { xMm: 0, yMm: 0, lx: 0, own: 0, shade: 0, all: 0, state: 'black' } as const

function pathOf(line: Float32Array): string {
  const points: string[] = []
  for (let i = 0; i < line.length; i += 2) points.push(`${line[i]} ${line[i + 1]}`)
  return `M${points.join('L')}`
}
