// Block diagram of supply, fuses, groups, drivers and boards. Channels of a group that are alike share a row, with their number.

import { useMemo } from 'react'
import type { GroupNeed, WireRun } from '../../electrothermal/result.ts'
import type { UnitSystem } from '../../num/unitSystem.ts'
import { type ChannelRow, type GroupBlock, gaugesIn, groupBlocks, hasGroupBlocks } from '../../report/wiringBlocks.ts'
import type { WiringRow } from '../../report/wiringTable.ts'
import { useWidth } from './useWidth.ts'

const ROW = 62
const BOX = 38
const MAX_ROWS = 8

interface PictureProps {
  wiring: readonly WireRun[]
  groups: readonly GroupNeed[]
  rows: readonly WiringRow[]
  system: UnitSystem
}

export function WiringPicture({ wiring: metric, groups, rows: listed, system }: PictureProps) {
  const wiring = useMemo(() => gaugesIn(metric, system), [metric, system])
  const [box, widthPx] = useWidth()
  const main = wiring.find((w) => w.part === 'main')
  const blocks = groupBlocks(wiring, groups)
  const all = blocks.flatMap((block) => block.rows.map((row) => ({ block, row })))
  const shown = all.slice(0, MAX_ROWS)
  const high = Math.max(1, shown.length) * ROW + 12
  // Two columns for the main line, one for groups that have a relay or wires, three for a channel, gaps for the labels of the wires.
  const columns = hasGroupBlocks(blocks) ? 6 : 5
  const w = Math.max(columns * 90, widthPx)
  const wide = w * (columns === 6 ? 0.112 : 0.13)
  const at = (column: number) => 2 + column * ((w - 4 - wide) / (columns - 1))
  const yOf = (i: number) => (i + 0.5) * ROW + 6
  const middle = high / 2
  if (!main) return null
  // Outlined where the list below says that it is dangerous.
  const flagged = new Set(listed.flatMap((r) => (r.remarks.some((x) => x.severity === 'severe') ? r.ids : [])))
  const hasContactor = main.to.includes('contactor')
  return (
    <figure className="power-picture" ref={box}>
      {widthPx > 0 && (
        <svg width={w} height={high} viewBox={`0 0 ${w} ${high}`} role="img" aria-label={spoken(main, blocks)}>
          <Wire from={[at(0) + wide, middle]} to={[at(1), middle]} run={main} />
          <Block x={at(0)} y={middle} wide={wide} lines={['supply', `${main.amps.toFixed(1)} A`]} />
          <Block
            x={at(1)}
            y={middle}
            wide={wide}
            lines={[main.fuse ? `fuse ${main.fuse.amps} A` : 'no main fuse', ...(hasContactor ? ['contactor'] : [])]}
            warn={!main.fuse || flagged.has('main')}
          />
          {blocks.map((block) => {
            const own = shown.flatMap((s, i) => (s.block === block ? [yOf(i)] : []))
            const y = own.reduce((sum, at) => sum + at, 0) / own.length
            const from = at(columns - 4) + wide
            return own.length === 0 ? null : (
              <g key={block.id}>
                {columns === 6 && <Fork from={[at(1) + wide, middle]} to={[at(2), y]} />}
                {columns === 6 && (
                  <Block
                    x={at(2)}
                    y={y}
                    wide={wide}
                    lines={[block.name, ...(block.words.length > 0 ? block.words : ['no relay'])]}
                    warn={block.feed !== null && flagged.has(block.feed.id)}
                  />
                )}
                {own.map((to) => (
                  <Fork key={to} from={[from, columns === 6 ? y : middle]} to={[at(columns - 3), to]} />
                ))}
              </g>
            )
          })}
          {shown.map(({ block, row }, i) => (
            <Channel
              key={row.into.id}
              row={row}
              y={yOf(i)}
              wide={wide}
              at={[at(columns - 3), at(columns - 2), at(columns - 1)]}
              boards={groups.length > 1 ? [`${row.boards} boards`, block.on] : [`${row.boards} boards`]}
              flagged={flagged}
            />
          ))}
        </svg>
      )}
      {all.length > shown.length && (
        <figcaption className="power-quiet">
          and {all.length - shown.length} more kinds of channel; all are below.
        </figcaption>
      )}
    </figure>
  )
}

function Channel(p: {
  row: ChannelRow
  y: number
  wide: number
  at: readonly [number, number, number]
  boards: readonly string[]
  flagged: ReadonlySet<string>
}) {
  const { row, y, wide, flagged } = p
  const { into, out, count } = row
  const [fuseX, driverX, boardX] = p.at
  const many = `${count} of them`
  return (
    <g>
      <Block
        x={fuseX}
        y={y}
        wide={wide}
        lines={[into.fuse ? `fuse ${into.fuse.amps} A` : 'no fuse named', count > 1 ? many : 'one']}
        warn={!into.fuse || flagged.has(into.id)}
      />
      <Wire from={[fuseX + wide, y]} to={[driverX, y]} run={into} />
      <Block
        x={driverX}
        y={y}
        wide={wide}
        lines={['driver', count > 1 ? many : (into.channel ?? '')]}
        warn={flagged.has(into.id)}
      />
      {out && <Wire from={[driverX + wide, y]} to={[boardX, y]} run={out} />}
      <Block
        x={boardX}
        y={y}
        wide={wide}
        lines={row.boards > 1 ? p.boards : [out?.to ?? 'board']}
        warn={out !== null && flagged.has(out.id)}
      />
    </g>
  )
}

type Place = readonly [number, number]

const Fork = ({ from, to }: { from: Place; to: Place }) => (
  <path className="power-wire" d={`M${from[0]} ${from[1]}H${to[0] - 14}V${to[1]}H${to[0]}`} />
)

function Block(p: { x: number; y: number; wide: number; lines: readonly string[]; warn?: boolean }) {
  const high = Math.max(BOX, 10 + 14 * p.lines.length)
  return (
    <g className="power-block" data-warn={p.warn || undefined}>
      <rect x={p.x} y={p.y - high / 2} width={p.wide} height={high} rx={3} />
      {p.lines.map((line, i) => (
        <text
          key={line}
          className="power-block-words"
          x={p.x + p.wide / 2}
          y={p.y + 4 + (i - (p.lines.length - 1) / 2) * 14}
          textAnchor="middle"
          {...(line.length * 6 > p.wide - 6 && { textLength: p.wide - 6, lengthAdjust: 'spacingAndGlyphs' })}
        >
          {line.length * 4.5 > p.wide ? `${line.slice(0, Math.floor(p.wide / 4.5) - 1)}…` : line}
        </text>
      ))}
    </g>
  )
}

function Wire({ from, to, run }: { from: [number, number]; to: [number, number]; run: WireRun }) {
  const x = (from[0] + to[0]) / 2
  return (
    <g>
      <path className="power-wire" d={`M${from[0]} ${from[1]}H${to[0]}`} />
      <text className="power-wire-words" x={x} y={from[1] - 5} textAnchor="middle">
        {run.gaugeWords}
      </text>
      <text className="power-wire-words" x={x} y={from[1] + 13} textAnchor="middle">
        {run.plus},
      </text>
      <text className="power-wire-words" x={x} y={from[1] + 25} textAnchor="middle">
        {run.minus}
      </text>
    </g>
  )
}

const spoken = (main: WireRun, blocks: readonly GroupBlock[]) =>
  `${main.from}, ${main.fuse ? `main fuse of ${main.fuse.amps} A` : 'no main fuse named'}, then ${blocks
    .flatMap((block) =>
      block.rows.map(
        (r) =>
          `${blocks.length > 1 ? `${[block.name, ...block.words].join(', ')}: ` : ''}${r.count} ${r.count === 1 ? 'channel' : 'channels'} with ${r.into.fuse ? `a fuse of ${r.into.fuse.amps} A` : 'no fuse named'}, driver and boards`,
      ),
    )
    .join('; ')}`
