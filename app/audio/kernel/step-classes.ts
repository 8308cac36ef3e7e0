/**
 * Steps between neighbouring samples are counted in classes, so that a percentile needs no list of
 * them. A class is one value of the upper bits of the step as a 32-bit float: 1024 classes an octave,
 * which places a value within 0.05 %.
 */
export const STEP_CLASSES = 30 * 1024
const MANTISSA_BITS_DROPPED = 13
/** Steps below 2^-26 all fall in class 0. */
const LOWEST_EXPONENT = 127 - 26
const FIRST = LOWEST_EXPONENT << (23 - MANTISSA_BITS_DROPPED)

const single = new Float32Array(1)
const bits = new Uint32Array(single.buffer)

/** Class of an absolute step, 0 to STEP_CLASSES - 1. */
export function stepClass(step: number): number {
  single[0] = step
  const place = ((bits[0] ?? 0) >>> MANTISSA_BITS_DROPPED) - FIRST
  return place < 0 ? 0 : place >= STEP_CLASSES ? STEP_CLASSES - 1 : place
}

/** Lowest step of a class; that of class 0 is 0. */
export function stepClassFloor(place: number): number {
  if (place <= 0) return 0
  bits[0] = (place + FIRST) << MANTISSA_BITS_DROPPED
  return single[0] ?? 0
}

/**
 * The step that `share` of all steps do not exceed. Counted from the top, where there are few.
 * @param total how many steps were counted
 * @param quantum distance of two neighbouring sample values; 0 for floats. Where only one multiple of
 *   it lies in the class found, the answer is exact.
 */
export function stepPercentile(counts: Uint32Array, total: number, share: number, quantum: number): number {
  const above = total - 1 - Math.ceil(share * (total - 1))
  let seen = 0
  for (let place = counts.length - 1; place >= 0; place--) {
    seen += counts[place] ?? 0
    if (seen > above) return representative(place, quantum)
  }
  return 0
}

function representative(place: number, quantum: number): number {
  const low = stepClassFloor(place)
  const high = stepClassFloor(place + 1)
  const middle = place === 0 ? 0 : (low + high) / 2
  if (quantum === 0) return middle
  const nearest = Math.round(middle / quantum) * quantum
  return nearest >= low && nearest < high ? nearest : middle
}
