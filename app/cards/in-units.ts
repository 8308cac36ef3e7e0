export { inUnits } from '../model/in-units.ts'
