// Theme and size of text.
import { Button as AriaButton, Dialog, DialogTrigger, Heading, Popover } from 'react-aria-components'
import { display, TEXT_SIZES, THEME_CHOICES, type ThemeChoice, useDisplay } from '../store/display.ts'
import { Choice } from '../ui/Choice.tsx'

const THEME_NAMES: Record<ThemeChoice, string> = { system: 'as the system', dark: 'dark', light: 'light' }

export function DisplayMenu() {
  const choice = useDisplay((s) => s.choice)
  const text = useDisplay((s) => s.text)
  return (
    <DialogTrigger>
      <AriaButton className="ui-button ui-button-quiet" aria-label="Theme and size of text">
        <span aria-hidden="true">Aa</span>
      </AriaButton>
      <Popover className="ui-popover shell-popover" placement="bottom end">
        <Dialog className="shell-popover-body">
          <Heading slot="title" className="shell-popover-title">
            On this screen
          </Heading>
          <Choice
            label="Theme"
            segments
            value={choice}
            options={THEME_CHOICES.map((key) => ({ key, name: THEME_NAMES[key] }))}
            onChoose={display.setTheme}
          />
          <Choice
            label="Size of text, %"
            segments
            value={text}
            options={TEXT_SIZES.map((key) => ({ key, name: key }))}
            onChoose={display.setText}
          />
          <p className="shell-quiet">Kept in this browser. The light theme is for daylight; Night stays dark.</p>
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}
