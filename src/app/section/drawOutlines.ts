// Outlines of the thresholds in front of the lamp: inside a line the irradiance is above the threshold.
import type { DangerReading } from '../../job/danger/result.ts'
import { type DangerLevel, levelsOf, levelWords, outlineOf } from '../common/dangerLevels.ts'
import { clearDistance } from '../common/format.ts'
import { type Pen, words } from './pen.ts'

export interface Outlines {
  level: DangerLevel
  lines: Float32Array[]
}

export const outlinesOf = (reading: DangerReading): Outlines[] =>
  levelsOf(reading.clear).map((level) => ({ level, lines: outlineOf(reading.volume, level.kWm2) }))

export function drawOutlines(pen: Pen, outlines: readonly Outlines[], frontZMm: number, stale: boolean): void {
  const { ctx, paint, size } = pen
  for (const [k, { level, lines }] of outlines.entries()) {
    const colour = level.burns ? paint.severe : paint.warning
    ctx.save()
    ctx.globalAlpha = stale ? 0.35 : 1
    ctx.strokeStyle = colour
    ctx.lineWidth = level.burns ? 2.2 : 1.5
    ctx.setLineDash([...level.dash])
    for (const line of lines)
      for (const side of [1, -1]) {
        ctx.beginPath()
        for (let i = 0; i < line.length; i += 2) ctx.lineTo(pen.x(line[i]!), pen.y(side * line[i + 1]!))
        ctx.stroke()
      }
    ctx.restore()
    if (lines.length === 0) continue
    const tip = pen.x(frontZMm + level.reachMm)
    const beyond = tip > size.width - 8
    words(
      pen,
      `${levelWords(level)}: to ${clearDistance(level.reachMm, pen.system)}${beyond ? ' →' : ''}`,
      Math.min(tip, size.width - 8),
      // Where the line leaves the picture, its label goes into the free corner, clear of lens and sizes.
      beyond ? size.height - 12 - 15 * k : pen.y(0) - 8 - 15 * k,
      { align: 'right', colour },
    )
  }
}
