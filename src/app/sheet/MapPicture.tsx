import { scaleLinear } from 'd3-scale'
import { type KeyboardEvent, useEffect, useRef } from 'react'
import type { GridMap } from '../../job/beam/sheet.ts'
import { shownText } from '../common/decimalMark.ts'
import { type DisplayUnit, formatValue, scaleOf, toDigits } from '../common/format.ts'
import { fitGrid, paintGrid, peakOf, valueAt } from '../common/gridMap.ts'
import { rampCss } from '../common/ramp.ts'
import { shownUnit, type UnitSystem } from '../common/unitSystem.ts'
import { redraw } from '../frame.ts'
import { useUnitSystem } from '../store/unitSystem.ts'

export interface Ring {
  x: number
  y: number
  radius: number
  words: string
  kind: 'hot' | 'angle'
  /** Label below the ring instead of above it. */
  below?: boolean
  /** Radius of the label, where it differs from the ring's. */
  labelRadius?: number
}

interface Props {
  id: string
  map: GridMap
  widthPx: number
  acrossWords: string
  upWords: string
  rings: Ring[]
  about: string
}

const LEFT = 44
const BOTTOM = 32
const TOP = 6
const RIGHT = 8
/** From the top of a low map to the middle of the words beside it, which are longer. */
const LEAST_MIDDLE_PX = 54
const GRADIENT = `linear-gradient(90deg, ${Array.from({ length: 17 }, (_, i) => rampCss(i / 16)).join(', ')})`
const AXIS_UNIT: Record<GridMap['unit'], DisplayUnit> = { mm: 'mm', deg: 'deg', m: 'm' }
const valueUnit = (of: GridMap['of']): DisplayUnit => (of === 'kW/m2' ? 'kW/m²' : of)

/** A map: axes, rings, a scale bar with units, and the value under the pointer or the keyboard cursor. */
export function MapPicture(props: Props) {
  const { map, widthPx, rings } = props
  const system = useUnitSystem()
  const fit = fitGrid(map, widthPx - LEFT - RIGHT, 340)
  const x = scaleLinear([map.fromX, map.toX], [LEFT, LEFT + fit.widthPx])
  const y = scaleLinear([map.fromY, map.toY], [TOP + fit.heightPx, TOP])
  const top = peakOf(map).value
  const canvas = useRef<HTMLCanvasElement>(null)
  const readout = useRef<HTMLOutputElement>(null)
  const cross = useRef<SVGGElement>(null)
  const at = useRef<{ x: number; y: number } | null>(null)

  const write = () => {
    if (!readout.current || !cross.current) return
    const p = at.current
    const value = p && valueAt(map, p.x, p.y)
    readout.current.textContent = shownText(
      p && value !== null ? readWords(map, p, value, system) : `highest bin ${formatValue(top, valueUnit(map.of))}`,
    )
    cross.current.style.display = p && value !== null ? '' : 'none'
    if (p) cross.current.setAttribute('transform', `translate(${x(p.x)} ${y(p.y)})`)
  }
  const later = () => redraw(`sheet-read-${props.id}`, write)
  useEffect(later)
  useEffect(
    () =>
      redraw(`sheet-map-${props.id}`, () => {
        const context = canvas.current?.getContext('2d')
        context?.putImageData(new ImageData(paintGrid(map, top), map.columns, map.rows), 0, 0)
      }),
    [map, top, props.id],
  )

  const onKey = (e: KeyboardEvent) => {
    const move = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[e.key]
    if (!move) return
    e.preventDefault()
    const from = at.current ?? peakOf(map)
    const reach = e.shiftKey ? 8 : 1
    const step = { x: (reach * (map.toX - map.fromX)) / map.columns, y: (reach * (map.toY - map.fromY)) / map.rows }
    const next = { x: from.x + move[0]! * step.x, y: from.y + move[1]! * step.y }
    if (valueAt(map, next.x, next.y) !== null) at.current = next
    later()
  }
  return (
    <div className="sheet-map">
      <div
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the arrow keys read the map
        tabIndex={0}
        aria-label={`${props.about} Arrow keys read values.`}
        className="sheet-map-frame"
        onKeyDown={onKey}
        style={{ width: widthPx, height: TOP + fit.heightPx + BOTTOM }}
      >
        <canvas
          ref={canvas}
          width={map.columns}
          height={map.rows}
          style={{ left: LEFT, top: TOP, width: fit.widthPx, height: fit.heightPx }}
        />
        <svg
          width={widthPx}
          height={TOP + fit.heightPx + BOTTOM}
          aria-hidden="true"
          onPointerMove={(e) => {
            const box = e.currentTarget.getBoundingClientRect()
            at.current = { x: x.invert(e.clientX - box.left), y: y.invert(e.clientY - box.top) }
            later()
          }}
          onPointerLeave={() => {
            at.current = null
            later()
          }}
        >
          <MapAxes
            x={inShown(x, map, system)}
            y={inShown(y, map, system)}
            fit={fit}
            acrossWords={axisWords(props.acrossWords, map, system)}
            upWords={axisWords(props.upWords, map, system)}
          />
          <clipPath id={`sheet-clip-${props.id}`}>
            <rect width={fit.widthPx} height={fit.heightPx} />
          </clipPath>
          <g transform={`translate(${LEFT} ${TOP})`} clipPath={`url(#sheet-clip-${props.id})`}>
            {rings.map((r) => (
              <RingMark
                key={r.words}
                ring={r}
                cx={x(r.x) - LEFT}
                cy={y(r.y) - TOP}
                radius={Math.abs(x(r.radius) - x(0))}
                labelPx={Math.abs(x(r.labelRadius ?? r.radius) - x(0))}
                widthPx={fit.widthPx}
              />
            ))}
          </g>
          <g ref={cross} className="sheet-cross" style={{ display: 'none' }}>
            <path d="M-9 0H-3M3 0H9M0-9V-3M0 3V9" />
          </g>
        </svg>
      </div>
      <output ref={readout} className="sheet-readout" />
      <ScaleBar top={top} unit={valueUnit(map.of)} widthPx={Math.max(fit.widthPx, 180)} />
    </div>
  )
}

function readWords(map: GridMap, p: { x: number; y: number }, value: number, system: UnitSystem): string {
  const unit = AXIS_UNIT[map.unit]
  return `${formatValue(p.x, unit, 3, system)}, ${formatValue(p.y, unit, 3, system)}: ${formatValue(value, valueUnit(map.of))}`
}

type Scale = ReturnType<typeof scaleLinear<number, number>>

/** The axis in the unit that is shown, so that its ticks are whole there. */
function inShown(scale: Scale, map: GridMap, system: UnitSystem): Scale {
  if (map.unit === 'deg') return scale
  const { toShown } = shownUnit(map.unit, system)
  return scale.copy().domain(scale.domain().map(toShown))
}

/** “x, mm” as “x, in”. */
function axisWords(words: string, { unit }: GridMap, system: UnitSystem): string {
  return unit === 'deg' ? words : words.replace(new RegExp(`\\b${unit}\\b`), shownUnit(unit, system).word)
}

function MapAxes(props: {
  x: Scale
  y: Scale
  fit: { widthPx: number; heightPx: number }
  acrossWords: string
  upWords: string
}) {
  const { x, y, fit } = props
  const foot = TOP + fit.heightPx
  return (
    <g className="sheet-axes">
      <rect x={LEFT} y={TOP} width={fit.widthPx} height={fit.heightPx} className="sheet-map-edge" />
      {x.ticks(fit.widthPx > 200 ? 5 : 3).map((t) => (
        <text key={t} x={x(t)} y={foot + 13} textAnchor="middle">
          {toDigits(t, 4)}
        </text>
      ))}
      {y.ticks(fit.heightPx > 150 ? 5 : 3).map((t) => (
        <text key={t} x={LEFT - 5} y={y(t) + 4} textAnchor="end">
          {toDigits(t, 4)}
        </text>
      ))}
      <text x={LEFT + fit.widthPx / 2} y={foot + 27} textAnchor="middle" className="sheet-axis-words">
        {props.acrossWords}
      </text>
      <text
        transform={`translate(10 ${TOP + Math.max(fit.heightPx / 2, LEAST_MIDDLE_PX)}) rotate(-90)`}
        textAnchor="middle"
        className="sheet-axis-words"
      >
        {props.upWords}
      </text>
    </g>
  )
}

function RingMark({
  ring,
  cx,
  cy,
  radius,
  labelPx,
  widthPx,
}: {
  ring: Ring
  cx: number
  cy: number
  radius: number
  labelPx: number
  widthPx: number
}) {
  const r = ring.kind === 'hot' ? Math.max(6, radius) : radius
  const left = cx > widthPx * 0.62
  return (
    <g className="sheet-ring" data-kind={ring.kind}>
      <circle cx={cx} cy={cy} r={r} className="sheet-ring-under" />
      <circle cx={cx} cy={cy} r={r} />
      {ring.kind === 'hot' ? (
        <text x={left ? cx - r - 5 : cx + r + 5} y={cy + 4} textAnchor={left ? 'end' : 'start'}>
          {ring.words}
        </text>
      ) : (
        <text x={cx} y={ring.below ? cy + labelPx + 13 : cy - labelPx - 4} textAnchor="middle">
          {ring.words}
        </text>
      )}
    </g>
  )
}

function ScaleBar({ top, unit, widthPx }: { top: number; unit: DisplayUnit; widthPx: number }) {
  const scale = scaleOf(top, unit)
  const x = scaleLinear([0, top * scale.by || 1], [0, widthPx])
  return (
    <div className="sheet-scale" style={{ width: widthPx, marginLeft: LEFT }}>
      <div style={{ background: GRADIENT }} />
      <p>
        {x.ticks(4).map((t) => (
          <span key={t} style={{ left: x(t) }}>
            {toDigits(t, 3)}
          </span>
        ))}
        <b>{scale.unit}</b>
      </p>
    </div>
  )
}
