import { licensedParts } from './licensed-parts.ts'
import type { FontRule } from './rule.ts'

/** Every licence on record counts its uses, and none is free. */
export const licenceNoSeat: FontRule = {
  id: 'licence-no-seat',
  judge: (look) =>
    licensedParts(look)
      .filter(
        ({ licences }) =>
          licences.length > 0 && licences.every(({ seatsLeft }) => seatsLeft !== null && seatsLeft <= 0),
      )
      .map(({ path, licences }) => ({
        path,
        message: `All uses of the ${licences.length === 1 ? 'licence' : 'licences'} on record are taken.`,
        why: 'One more build needs one more licence.',
        mend: 'Buy another licence and record it, or take the font from another build.',
        fixable: false,
        measured: 0,
        limit: 1,
      })),
}
