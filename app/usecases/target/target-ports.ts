import type { CardTargets } from '../../ports/card-targets.ts'
import type { CardPorts } from '../card-ports.ts'

/** What the use cases about mounted cards and folders need from outside. */
export interface TargetPorts extends CardPorts {
  readonly targets: CardTargets
  /** The workshop's own folder, which is never written to as a card, but for what lies in `imagesFolder`. */
  readonly workshopFolder: string
  readonly imagesFolder: string
}
