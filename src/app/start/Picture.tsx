// A figure as SVG on the screen, on paper's white.
import { memo } from 'react'
import type { Figure, Mark, Style } from '../../report/book/model.ts'

export const Picture = memo(({ figure }: { figure: Figure }) => (
  <svg
    className="start-picture"
    viewBox={`0 0 ${figure.width} ${figure.height}`}
    role="img"
    aria-label={figure.words}
    preserveAspectRatio="xMidYMid meet"
  >
    {figure.marks.map((mark, i) => (
      // biome-ignore lint/suspicious/noArrayIndexKey: a figure's marks have no other name and are drawn anew together.
      <MarkShape key={i} mark={mark} />
    ))}
  </svg>
))

const styled = ({ stroke, width, fill, dash }: Style) => ({
  fill: fill ?? 'none',
  // A picture is drawn far smaller than a page: its lines keep their width.
  ...(stroke && {
    stroke,
    strokeWidth: width ?? 1,
    strokeLinejoin: 'round' as const,
    vectorEffect: 'non-scaling-stroke',
  }),
  ...(dash && { strokeDasharray: dash.join(' ') }),
})

function MarkShape({ mark }: { mark: Mark }) {
  if (mark.kind === 'circle') return <circle cx={mark.x} cy={mark.y} r={mark.r} {...styled(mark)} />
  if (mark.kind === 'text')
    return (
      <text x={mark.x} y={mark.y} fontSize={mark.size} textAnchor={mark.anchor ?? 'start'} fill={mark.colour ?? '#111'}>
        {mark.text}
      </text>
    )
  const points = mark.points.map(([x, y]) => `${x.toFixed(2)},${y.toFixed(2)}`).join(' ')
  return mark.closed ? <polygon points={points} {...styled(mark)} /> : <polyline points={points} {...styled(mark)} />
}
