import type { Role } from '../charts/scene.ts';

/** Inks of the printed page. All but the two rules are darker than 4.5:1 on white, and read in grey. */
export const INK = '#211e1a';
export const MUTED = '#5f574b';
export const RULE = '#cbc3b4';
export const OXIDE = '#7c3a24';

/** The print palette of a chart's roles. */
export const ROLE_INK: Record<Role, string> = {
  ink: INK,
  muted: MUTED,
  grid: '#ddd6c9',
  gold: '#8d6708',
  silver: '#5d6873',
  range: '#e3dac6',
  best: '#2c6152',
  loss: OXIDE,
  paper: '#ffffff',
};
