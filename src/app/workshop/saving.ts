// Makes a file and says how it went; a file that could not be made is a sentence, never silence.
import { workshop } from '../store/workshop.ts'

export async function saving(name: string, make: () => Promise<void>): Promise<void> {
  workshop.setState({ announcement: `${name} is being made…` })
  try {
    await make()
    workshop.setState({ announcement: `${name} has been saved.` })
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error)
    workshop.setState({ announcement: `${name} could not be made: ${why}` })
  }
}
