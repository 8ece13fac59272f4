// Which mark is which optic, and which line is what.

import { useEffect, useRef } from 'react'
import type { Tunnel } from '../../lamp/schema.ts'
import { isPlain } from '../common/pieceCut.ts'
import type { UnitSystem } from '../common/unitSystem.ts'
import { numberText, valueText } from '../common/units.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { type GroupMark, groupMarks } from './model/groups.ts'
import { legend, mostCommonCurrentA, type OpticMark } from './model/marks.ts'
import { groupPattern, readPalette } from './palette.ts'
import { addDisc, addMark } from './tiles.ts'
import { useSettledLamp } from './useSettledLamp.ts'

export function PlanLegend() {
  const system = useUnitSystem()
  const lamp = useSettledLamp()
  const rows = legend(lamp)
  const usual = mostCommonCurrentA(lamp)
  const others = lamp.boards.filter((b) => b.currentA !== usual).length
  return (
    <ul className="plan-legend" aria-label="Marks on the plan">
      {rows.map((r) => (
        <li key={r.mark.id}>
          <Swatch mark={r.mark} />
          <span translate="no">{r.mark.name}</span>: {r.emitters} {r.emitters === 1 ? 'emitter' : 'emitters'}
        </li>
      ))}
      {groupMarks(lamp).map((g) => (
        <li key={`group ${g.id}`}>
          <GroupSwatch mark={g} />
          <span translate="no">{g.name}</span>: {g.boards} {g.boards === 1 ? 'board' : 'boards'}
          {g.isOff && ', off'}
        </li>
      ))}
      {lamp.face.marginMm > 0 && (
        <li>
          <i className="plan-line plan-line-margin" />
          margin {valueText(lamp.face.marginMm, 'mm', system)}
        </li>
      )}
      {lamp.tunnel && (
        <li>
          <i className="plan-line plan-line-tunnel" />
          tunnel inlet {inletText(lamp.tunnel, system)}
        </li>
      )}
      {lamp.lens && !isPlain(lamp.lens) && (
        <li>
          <i className="plan-line plan-line-lens" />
          lens; + its optical axis
        </li>
      )}
      {usual !== null && (
        <li className="plan-legend-current">
          {usual} A a board{others > 0 && `; ${others} ${others === 1 ? 'board' : 'boards'} otherwise, as written`}
        </li>
      )}
    </ul>
  )
}

const inletText = ({ inMm, inHeightMm }: Tunnel, system: UnitSystem): string =>
  `${inHeightMm === undefined ? '' : `${numberText(inMm, 'mm', system)} × `}${valueText(inHeightMm ?? inMm, 'mm', system)}`

const SIDE = 15

function Swatch({ mark }: { mark: OpticMark }) {
  const ref = useRef<HTMLCanvasElement>(null)
  const { shape, tone } = mark
  useEffect(() => {
    const canvas = ref.current!
    const ratio = window.devicePixelRatio || 1
    canvas.width = SIDE * ratio
    canvas.height = SIDE * ratio
    const ctx = canvas.getContext('2d')!
    ctx.scale(ratio, -ratio)
    ctx.translate(0, -SIDE)
    const colour = readPalette(canvas).tone[tone]
    const disc = new Path2D()
    const inner = new Path2D()
    addDisc(disc, SIDE / 2, SIDE / 2, SIDE / 2 - 1)
    addMark(inner, shape, SIDE / 2, SIDE / 2, SIDE / 2 - 1)
    ctx.strokeStyle = colour
    ctx.fillStyle = colour
    ctx.globalAlpha = 0.75
    ctx.stroke(disc)
    ctx.globalAlpha = 1
    ctx.fill(inner)
  }, [shape, tone])
  return (
    <span className="plan-swatch" aria-hidden="true">
      <canvas ref={ref} />
    </span>
  )
}

function GroupSwatch({ mark: { tone, lines } }: { mark: GroupMark }) {
  const ref = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    const canvas = ref.current
    const ctx = canvas?.getContext('2d')
    if (!canvas || !ctx) return
    const ratio = window.devicePixelRatio || 1
    canvas.width = SIDE * ratio
    canvas.height = SIDE * ratio
    const palette = readPalette(canvas)
    const colour = palette.group[tone] ?? palette.ink
    ctx.fillStyle = colour
    ctx.globalAlpha = 0.3
    ctx.fillRect(0, 0, canvas.width, canvas.height)
    ctx.globalAlpha = 1
    ctx.fillStyle = groupPattern(ctx, colour, lines, ratio)
    ctx.fillRect(0, 0, canvas.width, canvas.height)
    ctx.strokeStyle = colour
    ctx.lineWidth = 2 * ratio
    ctx.strokeRect(0, 0, canvas.width, canvas.height)
  }, [tone, lines])
  return (
    <span className="plan-swatch" aria-hidden="true">
      <canvas ref={ref} />
    </span>
  )
}
