// The light in front of the lamp from the side: irradiance over distance and radius, with an outline for each threshold.

import { useEffect, useMemo, useRef } from 'react'
import type { DangerReading } from '../../job/danger/result.ts'
import { type DangerLevel, hottestAt, levelsOf, levelWords, outlineOf } from '../common/dangerLevels.ts'
import { shownText } from '../common/decimalMark.ts'
import { clearDistance, scaleOf, THIN, toDigits } from '../common/format.ts'
import { niceBelow } from '../common/niceSteps.ts'
import { RAMP, RAMP_SIZE, rampCss } from '../common/ramp.ts'
import { shownUnit, type UnitSystem } from '../common/unitSystem.ts'
import { redraw } from '../frame.ts'
import { useUnitSystem } from '../store/unitSystem.ts'

const HEIGHT = 190
const LEFT = 10
const FOOT = 22
/** Range of the colour scale: below a thousandth of the maximum it is dark. */
const DECADES = 3

interface Frame {
  farMm: number
  wideMm: number
  outlines: { level: DangerLevel; lines: Float32Array[] }[]
}

function frameOf(reading: DangerReading): Frame {
  const outlines = levelsOf(reading.clear).map((level) => ({ level, lines: outlineOf(reading.volume, level.kWm2) }))
  const known = reading.volume.planes.at(-1)?.distanceMm ?? 1000
  const reach = Math.max(2000, 1.12 * Math.max(0, ...outlines.map((o) => o.level.reachMm)))
  let wide = reading.volume.planes[0]?.halfMm ?? 200
  for (const { lines } of outlines)
    for (const line of lines) for (let i = 1; i < line.length; i += 2) wide = Math.max(wide, line[i]!)
  return { farMm: Math.min(known, reach), wideMm: 1.15 * wide, outlines }
}

export function FrontMap({ reading }: { reading: DangerReading }) {
  const system = useUnitSystem()
  const canvas = useRef<HTMLCanvasElement>(null)
  const frame = useMemo(() => frameOf(reading), [reading])
  useEffect(() => {
    const of = canvas.current
    if (!of) return
    const draw = () => redraw('danger map', () => drawMap(of, reading, frame, system))
    const watch = new ResizeObserver(draw)
    watch.observe(of)
    return () => watch.disconnect()
  }, [reading, frame, system])
  const descriptions = frame.outlines.map(
    ({ level }) => `${levelWords(level)}: to ${clearDistance(level.reachMm, system)}`,
  )
  return (
    <>
      <canvas
        ref={canvas}
        className="danger-map"
        role="img"
        aria-label={`Irradiance before the lamp, seen from the side. ${descriptions.join('; ') || 'Below every threshold everywhere.'}`}
      />
      <div className="danger-scale">
        <span>{toDigits(reading.worstKWm2 / 10 ** DECADES, 2)}</span>
        <span className="danger-ramp" style={{ background: RAMP_CSS }} />
        <span>
          {toDigits(reading.worstKWm2, 2)}
          {THIN}kW/m², each step the same factor
        </span>
      </div>
      <ul className="danger-legend">
        {frame.outlines.map(({ level, lines }) => (
          <li key={level.kWm2}>
            <LevelLine level={level} />
            {levelWords(level)}: {toDigits(level.kWm2)}
            {THIN}kW/m²{level.changed ? ' (changed)' : ''}
            {lines.length === 0 ? ', in a spot too small to draw' : ''}
          </li>
        ))}
      </ul>
      {!reading.volume.round && (
        <p className="danger-quiet">
          This light isn’t round about the axis: drawn is the hottest place at each distance from it.
        </p>
      )}
    </>
  )
}

const RAMP_CSS = `linear-gradient(90deg, ${Array.from({ length: 9 }, (_, i) => rampCss(i / 8)).join(', ')})`

function LevelLine({ level }: { level: DangerLevel }) {
  return (
    <svg width="34" height="8" aria-hidden="true">
      <line
        x1="0"
        x2="34"
        y1="4"
        y2="4"
        stroke={level.burns ? 'var(--severe)' : 'var(--warning)'}
        strokeWidth={level.burns ? 2.4 : 1.6}
        strokeDasharray={level.dash.join(' ')}
      />
    </svg>
  )
}

function drawMap(
  canvas: HTMLCanvasElement,
  reading: DangerReading,
  { farMm, wideMm, outlines }: Frame,
  system: UnitSystem,
): void {
  const ctx = canvas.getContext('2d')
  const width = canvas.clientWidth
  if (!ctx || width < 60) return
  const dpr = window.devicePixelRatio || 1
  canvas.width = Math.round(width * dpr)
  canvas.height = Math.round(HEIGHT * dpr)
  ctx.scale(dpr, dpr)
  const style = getComputedStyle(canvas)
  const token = (name: string) => style.getPropertyValue(`--${name}`).trim()
  const plot = { width: width - LEFT, height: HEIGHT - FOOT }
  const mid = plot.height / 2
  const image = new ImageData(Math.max(1, Math.round(plot.width / 2)), Math.max(1, Math.round(plot.height / 2)))
  fill(image, reading, farMm, wideMm)
  const small = new OffscreenCanvas(image.width, image.height)
  small.getContext('2d')!.putImageData(image, 0, 0)
  ctx.drawImage(small, LEFT, 0, plot.width, plot.height)
  const x = (zMm: number) => LEFT + ((zMm - reading.volume.frontZMm) / farMm) * plot.width
  const y = (rMm: number) => mid - (rMm / wideMm) * mid
  for (const { level, lines } of outlines) {
    ctx.save()
    ctx.beginPath()
    ctx.rect(LEFT, 0, plot.width, plot.height)
    ctx.clip()
    for (const pass of [0, 1]) {
      // A dark outline under the line keeps it visible over the brightest part of the map.
      ctx.strokeStyle = pass === 0 ? '#000' : token(level.burns ? 'severe' : 'warning')
      ctx.lineWidth = (level.burns ? 2.4 : 1.6) + (pass === 0 ? 2 : 0)
      ctx.setLineDash(pass === 0 ? [] : [...level.dash])
      for (const line of lines)
        for (const side of [1, -1]) {
          ctx.beginPath()
          for (let i = 0; i < line.length; i += 2) ctx.lineTo(x(line[i]!), y(side * line[i + 1]!))
          ctx.stroke()
        }
    }
    ctx.restore()
  }
  ctx.fillStyle = token('ink-quiet')
  ctx.fillRect(
    0,
    y(Math.min(wideMm, reading.volume.planes[0]?.halfMm ?? 0)),
    5,
    2 * Math.min(mid, mid * ((reading.volume.planes[0]?.halfMm ?? 0) / wideMm)),
  )
  const colours = { ink: token('ink-quiet'), font: style.fontFamily }
  axes(ctx, { farMm, wideMm, width, plotHeight: plot.height, ...colours }, system)
}

function axes(
  ctx: CanvasRenderingContext2D,
  o: { farMm: number; wideMm: number; width: number; plotHeight: number; ink: string; font: string },
  system: UnitSystem,
): void {
  const far = scaleOf(o.farMm / 1000, 'm', system)
  const perMm = far.by / 1000
  const step = niceBelow((o.farMm * perMm) / 3)
  ctx.fillStyle = o.ink
  ctx.strokeStyle = o.ink
  ctx.font = `11px ${o.font}`
  ctx.textBaseline = 'top'
  for (let d = 0; d <= o.farMm * perMm; d += step) {
    const at = LEFT + (d / (o.farMm * perMm)) * (o.width - LEFT)
    ctx.fillRect(at, o.plotHeight, 1, 4)
    ctx.textAlign = d === 0 ? 'left' : at > o.width - 40 ? 'right' : 'center'
    ctx.fillText(d === 0 ? 'front' : shownText(`${toDigits(d)}${THIN}${far.unit}`), at, o.plotHeight + 6)
  }
  const { toShown, toDocument } = shownUnit('mm', system)
  const bar = toDocument(niceBelow(toShown(o.wideMm / 2)))
  const px = (bar / o.wideMm) * (o.plotHeight / 2)
  ctx.fillStyle = '#000a'
  ctx.fillRect(o.width - 76, o.plotHeight - 10 - Math.max(px, 12), 76, Math.max(px, 12) + 8)
  ctx.fillStyle = o.ink
  ctx.fillRect(o.width - 8, o.plotHeight - 6 - px, 2, px)
  ctx.textAlign = 'right'
  ctx.textBaseline = 'middle'
  ctx.fillText(shownText(clearDistance(bar, system)), o.width - 13, o.plotHeight - 6 - px / 2)
}

function fill(image: ImageData, reading: DangerReading, farMm: number, wideMm: number): void {
  const at = hottestAt(reading.volume)
  const half = image.height / 2
  for (let c = 0; c < image.width; c++) {
    const d = ((c + 0.5) / image.width) * farMm
    for (let r = 0; r < image.height; r++) {
      const radius = (Math.abs(r + 0.5 - half) / half) * wideMm
      const share = 1 + Math.log10(Math.max(1e-12, at(d, radius) / reading.worstKWm2)) / DECADES
      const k = Math.round(Math.min(1, Math.max(0, share)) * (RAMP_SIZE - 1))
      const slot = 4 * (r * image.width + c)
      for (let i = 0; i < 3; i++) image.data[slot + i] = RAMP[3 * k + i]!
      image.data[slot + 3] = 255
    }
  }
}
