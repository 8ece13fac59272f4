// The picture with its marks: dragged, or moved by the arrow keys, with a loupe on the one in hand.
import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import type { Point } from '../../../readings/photo/homography.ts'
import { redraw } from '../../frame.ts'
import { paintPicture } from './paint.ts'
import { type MarkKey, markAt, moveMark, useWallPicture, wallPicture } from './pictureStore.ts'
import { Sketch } from './Sketch.tsx'

const NAMES: readonly { key: MarkKey; sign: string; name: string }[] = [
  { key: 0, sign: '1', name: 'Mark 1, upper left' },
  { key: 1, sign: '2', name: 'Mark 2, upper right' },
  { key: 2, sign: '3', name: 'Mark 3, lower right' },
  { key: 3, sign: '4', name: 'Mark 4, lower left' },
  { key: 'meter', sign: 'L', name: 'Place of the lux reading' },
]

export function PictureStage() {
  const shown = useWallPicture((s) => s.shots.find((shot) => shot.key === s.shownKey) ?? null)
  const marks = useWallPicture((s) => s.marks)
  const canvas = useRef<HTMLCanvasElement>(null)
  const [active, setActive] = useState<MarkKey | null>(null)
  const picture = shown?.picture ?? null
  useEffect(() => {
    if (!picture) return
    redraw('photo-picture', () => {
      const context = canvas.current?.getContext('2d')
      context?.putImageData(new ImageData(paintPicture(picture), picture.columns, picture.rows), 0, 0)
    })
  }, [picture])
  if (!picture) return <Sketch />
  const outline = marks.map(([x, y]) => `${x},${y}`).join(' ')
  return (
    <div className="photo-stage">
      <div className="photo-frame" style={{ aspectRatio: `${picture.columns} / ${picture.rows}` }}>
        <canvas
          ref={canvas}
          width={picture.columns}
          height={picture.rows}
          role="img"
          aria-label={`${shown?.name ?? ''}, in grey; burnt-out and black places hatched`}
        />
        <svg viewBox="0 0 1 1" preserveAspectRatio="none" aria-hidden="true">
          <polygon points={outline} className="photo-outline-under" />
          <polygon points={outline} className="photo-outline" />
        </svg>
        {NAMES.map((mark) => (
          <Mark
            key={mark.key}
            of={mark.key}
            sign={mark.sign}
            name={mark.name}
            columns={picture.columns}
            rows={picture.rows}
            onActive={setActive}
          />
        ))}
        {active !== null && <Loupe of={active} source={canvas} columns={picture.columns} rows={picture.rows} />}
      </div>
      <p className="photo-key readings-quiet">
        <span className="photo-swatch" data-of="saturated" /> burnt out{' '}
        <span className="photo-swatch" data-of="black" /> black: neither is read.
      </p>
    </div>
  )
}

interface MarkProps {
  of: MarkKey
  sign: string
  name: string
  columns: number
  rows: number
  onActive(key: MarkKey | null): void
}

function Mark({ of: key, sign, name, columns, rows, onActive }: MarkProps) {
  const [x, y] = useWallPicture((s) => markAt(s, key))
  const from = useRef<{ pointer: Point; mark: Point } | null>(null)
  const shareOf = (event: PointerEvent<HTMLElement>): Point => {
    const box = event.currentTarget.parentElement?.getBoundingClientRect()
    return box ? [(event.clientX - box.left) / box.width, (event.clientY - box.top) / box.height] : [0, 0]
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key]
    if (!way) return
    event.preventDefault()
    event.stopPropagation()
    const by = event.shiftKey ? 10 : 1
    moveMark(key, [x + (by * (way[0] ?? 0)) / columns, y + (by * (way[1] ?? 0)) / rows])
  }
  const end = () => {
    from.current = null
    wallPicture.setState({ isDragging: false })
  }
  return (
    <button
      type="button"
      className="photo-mark"
      data-meter={key === 'meter' || undefined}
      style={{ left: `${100 * x}%`, top: `${100 * y}%` }}
      aria-label={`${name}: ${Math.round(x * columns)} across, ${Math.round(y * rows)} down`}
      onFocus={() => onActive(key)}
      onBlur={() => onActive(null)}
      onKeyDown={onKeyDown}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId)
        from.current = { pointer: shareOf(event), mark: [x, y] }
      }}
      onPointerMove={(event) => {
        const start = from.current
        if (!start) return
        const [u, v] = shareOf(event)
        moveMark(key, [start.mark[0] + u - start.pointer[0], start.mark[1] + v - start.pointer[1]], true)
      }}
      onPointerUp={end}
      onPointerCancel={end}
    >
      <span>{sign}</span>
    </button>
  )
}

/** Places of the picture in the loupe, and its size. */
const SEEN = 25
const LOUPE_PX = 150

function Loupe({
  of,
  source,
  columns,
  rows,
}: {
  of: MarkKey
  source: { current: HTMLCanvasElement | null }
  columns: number
  rows: number
}) {
  const [x, y] = useWallPicture((s) => markAt(s, of))
  const canvas = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    redraw('photo-loupe', () => {
      const context = canvas.current?.getContext('2d')
      if (!context || !source.current) return
      context.imageSmoothingEnabled = false
      context.clearRect(0, 0, LOUPE_PX, LOUPE_PX)
      const [left, top] = [x * columns - SEEN / 2, y * rows - SEEN / 2]
      context.drawImage(source.current, left, top, SEEN, SEEN, 0, 0, LOUPE_PX, LOUPE_PX)
    })
  }, [x, y, columns, rows, source])
  // In the corner that the mark is not in.
  const corner = { [x < 0.5 ? 'right' : 'left']: 6, [y < 0.5 ? 'bottom' : 'top']: 6 }
  return (
    <div className="photo-loupe" style={corner} aria-hidden="true">
      <canvas ref={canvas} width={LOUPE_PX} height={LOUPE_PX} />
    </div>
  )
}
