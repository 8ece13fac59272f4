// A drawing at any scale: wheel and buttons scale it, dragging and arrow keys move it; the pages that a PDF cuts it into over it.
import {
  type CSSProperties,
  type KeyboardEvent,
  type PointerEvent,
  type ReactNode,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react'
import type { Drawing, Item } from '../../drawing/types.ts'
import { CAPITAL, LINES, pathData } from '../../files/drawingSvg.ts'
import type { Box } from '../../num/grid.ts'
import { Button } from '../ui/Button.tsx'
import { type Frame, movedFrame, scaledFrame, wholeFrame } from './model/frame.ts'

const STEP = 1.25
const ARROWS: Record<string, readonly [number, number]> = {
  ArrowLeft: [-0.1, 0],
  ArrowRight: [0.1, 0],
  ArrowUp: [0, 0.1],
  ArrowDown: [0, -0.1],
}

/** Sizes and numbers are shown up to twice as large as they are, where they would be smaller than this font size, px; longer words aren't. */
const LEAST_PX = 10
const MOST_LARGER = 2
const SHORT_LETTERS = 6

interface ViewProps {
  drawing: Drawing
  pages: readonly Box[]
  /** Beside the buttons. */
  children: ReactNode
}

export function DrawingView({ drawing, pages, children }: ViewProps) {
  const host = useRef<HTMLDivElement>(null)
  const [{ aspect, widthPx }, setSize] = useState({ aspect: 1.4, widthPx: 700 })
  const whole = useMemo(() => wholeFrame(drawing.box, aspect), [drawing, aspect])
  const [moved, setMoved] = useState<Frame | null>(null)
  const frame = moved ?? whole
  useEffect(() => {
    if (!host.current) return
    const seen = new ResizeObserver(([entry]) => {
      const { width, height } = entry!.contentRect
      if (height > 0) setSize({ aspect: width / height, widthPx: width })
    })
    seen.observe(host.current)
    return () => seen.disconnect()
  }, [])
  // biome-ignore lint/correctness/useExhaustiveDependencies: another drawing, or another shape of the window, begins whole
  useEffect(() => setMoved(null), [drawing.name, aspect])
  // React's own wheel listeners are passive: the page would scroll as well.
  useEffect(() => {
    const at = host.current
    if (!at) return
    const onWheel = (event: WheelEvent) => {
      event.preventDefault()
      const [x, y] = sharesOf(at, event)
      setMoved((f) => scaledFrame(f ?? whole, STEP ** (-event.deltaY / 100), x, y))
    }
    at.addEventListener('wheel', onWheel, { passive: false })
    return () => at.removeEventListener('wheel', onWheel)
  }, [whole])
  const onKeyDown = (event: KeyboardEvent) => {
    const step = ARROWS[event.key]
    if (step) setMoved(movedFrame(frame, ...step))
    else if (event.key === '+' || event.key === '=') setMoved(scaledFrame(frame, STEP))
    else if (event.key === '-') setMoved(scaledFrame(frame, 1 / STEP))
    else if (event.key === '0') setMoved(null)
    else return
    event.preventDefault()
  }
  return (
    <div className="workshop-drawing">
      <div className="workshop-row">
        {children}
        <div className="workshop-scale">
          <Button kind="quiet" name="Smaller" hint="Smaller (−)" onPress={() => setMoved(scaledFrame(frame, 1 / STEP))}>
            −
          </Button>
          <Button kind="quiet" name="Larger" hint="Larger (+)" onPress={() => setMoved(scaledFrame(frame, STEP))}>
            +
          </Button>
          <Button kind="quiet" hint="All of it (0)" onPress={() => setMoved(null)}>
            Whole
          </Button>
        </div>
      </div>
      <section
        ref={host}
        className="workshop-paper"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: what can be moved must be reached by key
        tabIndex={0}
        aria-label={drawing.title}
        onKeyDown={onKeyDown}
        {...dragOf(frame, setMoved)}
      >
        <svg
          viewBox={`${frame.x} ${-frame.y - frame.heightMm} ${frame.widthMm} ${frame.heightMm}`}
          role="img"
          aria-label={drawing.title}
          style={{ '--least-text': `${(LEAST_PX * frame.widthMm) / widthPx}px` } as CSSProperties}
        >
          <Lines items={drawing.items} />
          {pages.map((page, i) => (
            <rect
              // biome-ignore lint/suspicious/noArrayIndexKey: pages have no other name than their place
              key={i}
              className="workshop-page"
              x={page.fromX}
              y={-page.toY}
              width={page.toX - page.fromX}
              height={page.toY - page.fromY}
            />
          ))}
        </svg>
      </section>
    </div>
  )
}

/** Shares of the window from its lower left corner. */
function sharesOf(at: Element, { clientX, clientY }: { clientX: number; clientY: number }): [number, number] {
  const { left, top, width, height } = at.getBoundingClientRect()
  return [(clientX - left) / width, 1 - (clientY - top) / height]
}

function dragOf(frame: Frame, set: (frame: Frame) => void) {
  return {
    onPointerDown: (event: PointerEvent<HTMLElement>) => event.currentTarget.setPointerCapture(event.pointerId),
    onPointerMove: (event: PointerEvent<HTMLElement>) => {
      if (!event.currentTarget.hasPointerCapture(event.pointerId)) return
      const { width, height } = event.currentTarget.getBoundingClientRect()
      set(movedFrame(frame, -event.movementX / width, event.movementY / height))
    },
  }
}

/** Memoized by the items: moving the window draws no line anew. */
function Lines({ items }: { items: readonly Item[] }) {
  return useMemo(
    () =>
      items.map((item, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: items of a drawing have no other name than their place
        <Line key={i} item={item} />
      )),
    [items],
  )
}

const ANCHORS = { left: 'start', middle: 'middle', right: 'end' } as const

function Line({ item }: { item: Item }) {
  const { colour, dashMm } = LINES[item.layer]
  if (item.kind === 'text') {
    const own = item.heightMm / CAPITAL
    const isKept = item.layer === 'dimension' || (item.layer === 'mark' && item.text.length <= SHORT_LETTERS)
    return (
      <text
        style={{ fontSize: isKept ? `clamp(${own}px, var(--least-text), ${MOST_LARGER * own}px)` : `${own}px` }}
        textAnchor={ANCHORS[item.align]}
        transform={`translate(${item.x} ${-item.y}) rotate(${-item.turnDeg})`}
        fill={colour}
        stroke="none"
      >
        {item.text}
      </text>
    )
  }
  const line = { stroke: colour, strokeDasharray: dashMm?.join(' ') }
  return item.kind === 'circle' ? (
    <circle cx={item.x} cy={-item.y} r={item.radiusMm} {...line} />
  ) : (
    <path d={pathData(item)} {...line} />
  )
}
