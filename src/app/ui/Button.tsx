// A button that does one thing. `hint` stands in a tooltip and in its accessible description.
import type { ReactNode } from 'react'
import { Button, Tooltip, TooltipTrigger } from 'react-aria-components'
import './ui.css'

export interface PushProps {
  children: ReactNode
  /** When the button shows a sign instead of words. */
  name?: string
  hint?: string
  kind?: 'plain' | 'quiet' | 'strong' | 'danger'
  isDisabled?: boolean
  slot?: 'close'
  onPush?(): void
}

export function Push(p: PushProps) {
  const button = (
    <Button
      className={`ui-button ui-button-${p.kind ?? 'plain'}`}
      aria-label={p.name}
      isDisabled={p.isDisabled}
      slot={p.slot}
      onPress={p.onPush}
    >
      {p.children}
    </Button>
  )
  if (!p.hint) return button
  return (
    <TooltipTrigger delay={500}>
      {button}
      <Tooltip className="ui-tooltip" offset={4}>
        {p.hint}
      </Tooltip>
    </TooltipTrigger>
  )
}
