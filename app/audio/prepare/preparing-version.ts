/**
 * Part of the key by which prepared sounds are kept. To be raised with every change that gives other
 * bytes for the same recipe.
 */
export const PREPARING_VERSION = 'steps-5'
