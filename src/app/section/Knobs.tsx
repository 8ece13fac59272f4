// The handles as sliders: drawn by the browser over the canvas, so that keyboard and screen reader have them too.
import { useEffect, useMemo } from 'react'
import { useDesign } from '../store/stores.ts'
import { createHand } from './gestures/handles.ts'
import { type HandleName, handlesOf } from './model/handles.ts'
import { section } from './state.ts'

export function Knobs({ box }: { box: React.RefObject<HTMLElement | null> }) {
  const hand = useMemo(() => createHand(() => box.current), [box])
  useEffect(() => () => hand.leave(), [hand])
  // Only which handles there are and what they're called; where they stand is written by the drawing.
  const list = useDesign((s) =>
    handlesOf(s.lamp)
      .map((h) => `${h.name}|${h.along}|${h.label}`)
      .join('\n'),
  )
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
            onPointerDown={(e) => hand.press(name, e.nativeEvent)}
            onPointerEnter={() => section.setState({ active: name })}
            onFocus={() => section.setState({ active: name })}
            onBlur={() => {
              hand.leave(name)
              section.setState((s) => (s.active === name ? { active: null } : s))
            }}
            onKeyDown={(e) => {
              if (e.ctrlKey || e.metaKey) return
              if (hand.keyDown(name, e)) {
                e.preventDefault()
                e.stopPropagation()
              }
            }}
            onKeyUp={() => hand.keyUp()}
          >
            <span aria-hidden="true">{along === 'z' ? '↔' : '↕'}</span>
          </div>
        )
      })}
    </div>
  )
}
