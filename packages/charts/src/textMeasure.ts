// Widths of texts before they are drawn.

/** A function that gives the width (px) of a text in a CSS font. */
export function textMeasure(font: string): (text: string) => number {
  const context = document.createElement('canvas').getContext('2d');
  if (!context) return (text) => text.length * 7;
  context.font = font;
  return (text) => Math.ceil(context.measureText(text).width);
}
