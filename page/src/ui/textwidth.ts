/** How wide a text is drawn [px]. */
const brush = document.createElement("canvas").getContext("2d");

export function textWidth(text: string, size = 15, weight = 400): number {
  if (!brush) return text.length * size * 0.5;
  brush.font = `${weight} ${size}px "Source Sans 3", "Noto Sans", "Liberation Sans", sans-serif`;
  return brush.measureText(text).width;
}
