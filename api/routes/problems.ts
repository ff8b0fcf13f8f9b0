import { Router } from "express";
import { allowMethods } from "../middleware/allow-methods.js";
import { PROBLEMS, Problem, type ProblemCode } from "../problems.js";

/** What a problem's `type` leads to: its title, status and advice, for people and programs. */
export function problemRoutes(): Router {
  const router = Router({ caseSensitive: true, strict: true });

  router
    .route("/problems/:code")
    .get((request, response) => {
      const { code } = request.params;
      if (!isProblemCode(code)) throw new Problem("path-unknown");
      response.json({ type: `/problems/${code}`, code, ...PROBLEMS[code] });
    })
    .all(allowMethods("GET"));

  return router;
}

function isProblemCode(code: string): code is ProblemCode {
  return Object.hasOwn(PROBLEMS, code);
}
