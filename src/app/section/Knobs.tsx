// The handles as sliders: DOM elements over the canvas, so that keyboard and screen reader can use them.
import { useEffect, useMemo } from 'react'
import { useDesign } from '../store/stores.ts'
import { createHandleDrag } from './gestures/handleDrag.ts'
import type { HandleName } from './model/handle.ts'
import { handlesOf } from './model/handles.ts'
import { section, useSection } from './state.ts'

export function Knobs({ box }: { box: React.RefObject<HTMLElement | null> }) {
  const drag = useMemo(() => createHandleDrag(() => box.current), [box])
  useEffect(() => () => drag.leave(), [drag])
  const cut = useSection((s) => s.cut)
  // Only the handles' names and labels; the drawing sets their positions.
  const list = useDesign((s) =>
    handlesOf(s.lamp, cut)
      .map((h) => `${h.name}|${h.along}|${h.label}`)
      .join('\n'),
  )
  // The drawing may have placed the handles before these were there.
  useEffect(() => {
    if (list) section.setState({})
  }, [list])
  if (!list) return null
  return (
    <div className="section-knobs">
      {list.split('\n').map((row) => {
        const [name, along, label] = row.split('|') as [HandleName, 'z' | 'r', string]
        return (
          <div
            key={name}
            className={`section-knob section-knob-${along}`}
            data-handle={name}
            role="slider"
            tabIndex={0}
            aria-label={label}
            aria-orientation={along === 'z' ? 'horizontal' : 'vertical'}
            aria-valuenow={0}
            onPointerDown={(e) => drag.pointerDown(name, e.nativeEvent)}
            onPointerEnter={() => section.setState({ active: name })}
            onFocus={() => section.setState({ active: name })}
            onBlur={() => {
              drag.leave(name)
              section.setState((s) => (s.active === name ? { active: null } : s))
            }}
            onKeyDown={(e) => {
              if (e.ctrlKey || e.metaKey) return
              if (drag.keyDown(name, e)) {
                e.preventDefault()
                e.stopPropagation()
              }
            }}
            onKeyUp={() => drag.keyUp()}
          >
            <span aria-hidden="true">{along === 'z' ? '↔' : '↕'}</span>
          </div>
        )
      })}
    </div>
  )
}
