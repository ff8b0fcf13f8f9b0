import { expect, it } from "vitest";
import { repeatedName } from "../../../worker/store/repeated-name.js";

it.each<[json: string, path: string[] | undefined]>([
  ['{"max":"0.030","max":"0.08"}', ["max"]],
  ['{"limits":[{"max":"1"},{"max":"0.030", "max" : "0.08"}]}', ["limits", "1", "max"]],
  ['{"a":{"b":[[],{"c":1}],"b":2}}', ["a", "b"]],
  ['{"m\\u0061x":1,"max":2}', ["max"]],
  ['{"a":{"max":1},"b":{"max":2},"max":3}', undefined],
  ['{"a":"max","b":"\\"a\\":{","c":["a","a"]}', undefined],
  ["3", undefined],
])("%s repeats %j", (json, path) => expect(repeatedName(json)).toEqual(path));
