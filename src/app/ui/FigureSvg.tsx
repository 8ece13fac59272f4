// A figure of the book on the page, at its own size: one unit is a point.
import type { Figure, Mark, Style } from '../../report/book/model.ts'

export function FigureSvg({ figure }: { figure: Figure }) {
  const { width, height, marks, words } = figure
  return (
    <svg role="img" aria-label={words} width={`${width}pt`} height={`${height}pt`} viewBox={`0 0 ${width} ${height}`}>
      {marks.map((mark, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a figure is drawn once
        <MarkSvg key={i} mark={mark} />
      ))}
    </svg>
  )
}

function MarkSvg({ mark }: { mark: Mark }) {
  if (mark.kind === 'text')
    return (
      <text
        x={mark.x}
        y={mark.y}
        fontSize={mark.size}
        textAnchor={mark.anchor ?? 'start'}
        fontWeight={mark.bold ? 700 : 400}
        fill={mark.colour ?? '#111'}
        transform={mark.turnDeg ? `rotate(${-mark.turnDeg} ${mark.x} ${mark.y})` : undefined}
      >
        {mark.text}
      </text>
    )
  if (mark.kind === 'circle') return <circle cx={mark.x} cy={mark.y} r={mark.r} {...strokeOf(mark)} />
  const points = mark.points.map(([x, y]) => `${x},${y}`).join(' ')
  return mark.closed ? (
    <polygon points={points} {...strokeOf(mark)} />
  ) : (
    <polyline points={points} {...strokeOf(mark)} />
  )
}

const strokeOf = ({ stroke, width, fill, dash }: Style) => ({
  fill: fill ?? 'none',
  ...(stroke && { stroke, strokeWidth: width ?? 1, strokeLinejoin: 'round' as const }),
  ...(dash && { strokeDasharray: dash.join(' ') }),
})
