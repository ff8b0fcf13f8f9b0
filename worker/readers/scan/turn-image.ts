import { createGray, type GrayImage } from "./gray-image.js";

/** The picture turned counterclockwise by so many degrees about its middle, so that writing turned clockwise is level again. */
export function turnBack(image: GrayImage, degrees: number): GrayImage {
  const { width, height, pixels } = image;
  const turned = createGray(width, height);
  const [cosine, sine] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const [middleX, middleY] = [width / 2, height / 2];
  for (let y = 0; y < height; y++) {
    // Where this row's first pixel comes from; from there it goes on in a straight line.
    let fromX = middleX - middleX * cosine - (y - middleY) * sine;
    let fromY = middleY - middleX * sine + (y - middleY) * cosine;
    for (let x = 0; x < width; x++, fromX += cosine, fromY += sine) {
      const left = Math.floor(fromX);
      const top = Math.floor(fromY);
      if (left < 0 || top < 0 || left + 1 >= width || top + 1 >= height) continue;
      const at = top * width + left;
      const [right, down] = [fromX - left, fromY - top];
      const above = pixels[at]! * (1 - right) + pixels[at + 1]! * right;
      const below = pixels[at + width]! * (1 - right) + pixels[at + width + 1]! * right;
      turned.pixels[y * width + x] = above * (1 - down) + below * down;
    }
  }
  return turned;
}

/** Turned clockwise by so many right angles. */
export function quarterTurn({ width, height, pixels }: GrayImage, turns: 1 | 2 | 3): GrayImage {
  const turned = turns === 2 ? createGray(width, height) : createGray(height, width);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [toX, toY] =
        turns === 1 ? [height - 1 - y, x] : turns === 2 ? [width - 1 - x, height - 1 - y] : [y, width - 1 - x];
      turned.pixels[toY * turned.width + toX] = pixels[y * width + x]!;
    }
  }
  return turned;
}

/** Where a point of the picture that was turned back lies in the picture as it was. */
export function pointBefore(x: number, y: number, degrees: number, { width, height }: GrayImage): [number, number] {
  const [cosine, sine] = [Math.cos((degrees * Math.PI) / 180), Math.sin((degrees * Math.PI) / 180)];
  const [across, down] = [x - width / 2, y - height / 2];
  return [width / 2 + across * cosine - down * sine, height / 2 + across * sine + down * cosine];
}
