/**
 * A chart as data: plain marks in points, origin top left, y downwards. One
 * scene has two painters, SVG in the page and vector in the PDF, so that a
 * figure cannot differ between them. Colour is a role, never a value: each
 * painter maps roles to its own palette, and no role is told apart by colour
 * alone (shape, dash or a label goes with it).
 */
export type Role = 'ink' | 'muted' | 'grid' | 'gold' | 'silver' | 'range' | 'best' | 'loss' | 'paper';

export type Mark =
  | {
      kind: 'line';
      x1: number;
      y1: number;
      x2: number;
      y2: number;
      role: Role;
      width: number;
      dash?: number[];
    }
  | {
      kind: 'rect';
      x: number;
      y: number;
      width: number;
      height: number;
      role: Role;
      filled: boolean;
      /** Hatched instead of flat, so that two roles differ without colour. */
      hatched?: boolean;
    }
  | { kind: 'circle'; x: number; y: number; radius: number; role: Role; filled: boolean }
  | { kind: 'path'; d: string; role: Role; width: number; filled: boolean; dash?: number[] }
  | {
      kind: 'text';
      x: number;
      y: number;
      text: string;
      sizePt: number;
      role: Role;
      anchor: 'start' | 'middle' | 'end';
      bold?: boolean;
    };

export interface Scene {
  width: number;
  height: number;
  title: string;
  /** What the picture says, in words, for those who cannot see it. */
  description: string;
  marks: Mark[];
}
