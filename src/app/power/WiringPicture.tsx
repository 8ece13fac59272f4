// Block diagram of supply, fuses, drivers and boards. Channels that are alike share a row, with their number.
import type { WireRun } from '../../electrothermal/result.ts'
import { alikeChannels } from '../../report/wiringBlocks.ts'
import type { WiringRow } from '../../report/wiringTable.ts'
import { useWidth } from './useWidth.ts'

const ROW = 62
const BOX = 38
const MAX_ROWS = 8

export function WiringPicture({ wiring, rows: listed }: { wiring: readonly WireRun[]; rows: readonly WiringRow[] }) {
  const [box, widthPx] = useWidth()
  const main = wiring.find((w) => w.part === 'main')
  const rows = alikeChannels(wiring)
  const shown = rows.slice(0, MAX_ROWS)
  const high = Math.max(1, shown.length) * ROW + 12
  // Two columns for the main line, three for a channel, gaps for the labels of the wires.
  const w = Math.max(480, widthPx)
  const wide = w * 0.13
  const at = (column: number) => 2 + column * ((w - 4 - wide) / 4)
  const middle = high / 2
  if (!main) return null
  // Outlined where the list below says that it is dangerous.
  const flagged = new Set(listed.flatMap((r) => (r.remarks.some((x) => x.severity === 'severe') ? r.ids : [])))
  const hasContactor = main.to.includes('contactor')
  return (
    <figure className="power-picture" ref={box}>
      {widthPx > 0 && (
        <svg width={w} height={high} role="img" aria-label={spoken(main, rows)}>
          <Wire from={[at(0) + wide, middle]} to={[at(1), middle]} run={main} />
          <Block x={at(0)} y={middle} wide={wide} lines={['supply', `${main.amps.toFixed(1)} A`]} />
          <Block
            x={at(1)}
            y={middle}
            wide={wide}
            lines={[main.fuse ? `fuse ${main.fuse.amps} A` : 'no main fuse', ...(hasContactor ? ['contactor'] : [])]}
            warn={!main.fuse || flagged.has('main')}
          />
          {shown.map((r, i) => {
            const y = (i + 0.5) * ROW + 6
            const { fuse } = r.into
            return (
              <g key={r.into.id}>
                <path className="power-wire" d={`M${at(1) + wide} ${middle}H${at(2) - 14}V${y}H${at(2)}`} />
                <Block
                  x={at(2)}
                  y={y}
                  wide={wide}
                  lines={[fuse ? `fuse ${fuse.amps} A` : 'no fuse named', r.count > 1 ? `${r.count} of them` : 'one']}
                  warn={!fuse || flagged.has(r.into.id)}
                />
                <Wire from={[at(2) + wide, y]} to={[at(3), y]} run={r.into} />
                <Block
                  x={at(3)}
                  y={y}
                  wide={wide}
                  lines={['driver', r.count > 1 ? `${r.count} of them` : (r.into.channel ?? '')]}
                  warn={flagged.has(r.into.id)}
                />
                {r.out && <Wire from={[at(3) + wide, y]} to={[at(4), y]} run={r.out} />}
                <Block
                  x={at(4)}
                  y={y}
                  wide={wide}
                  lines={r.count > 1 ? ['board each', `${r.first} to ${r.last}`] : [r.out?.to ?? 'board']}
                  warn={r.out !== null && flagged.has(r.out.id)}
                />
              </g>
            )
          })}
        </svg>
      )}
      {rows.length > shown.length && (
        <figcaption className="power-quiet">
          and {rows.length - shown.length} more kinds of channel; all are below.
        </figcaption>
      )}
    </figure>
  )
}

function Block(p: { x: number; y: number; wide: number; lines: readonly string[]; warn?: boolean }) {
  return (
    <g className="power-block" data-warn={p.warn || undefined}>
      <rect x={p.x} y={p.y - BOX / 2} width={p.wide} height={BOX} rx={3} />
      {p.lines.map((line, i) => (
        <text
          key={line}
          className="power-block-words"
          x={p.x + p.wide / 2}
          y={p.y + 4 + (i - (p.lines.length - 1) / 2) * 14}
          textAnchor="middle"
        >
          {line.length * 6 > p.wide ? `${line.slice(0, Math.floor(p.wide / 6) - 1)}…` : line}
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

const spoken = (main: WireRun, rows: ReturnType<typeof alikeChannels>) =>
  `${main.from}, ${main.fuse ? `main fuse of ${main.fuse.amps} A` : 'no main fuse named'}, then ${rows
    .map(
      (r) =>
        `${r.count} ${r.count === 1 ? 'channel' : 'channels'} with ${r.into.fuse ? `a fuse of ${r.into.fuse.amps} A` : 'no fuse named'}, driver and boards`,
    )
    .join('; ')}`
