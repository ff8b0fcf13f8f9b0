import { Router } from "express";
import { z } from "zod";
import type { AppDeps } from "../deps.js";
import { allowMethods } from "../middleware/allow-methods.js";
import { needs } from "../middleware/authenticate.js";
import { Problem } from "../problems.js";
import { readQuery } from "../requests/query.js";
import { gradeSummary } from "../responses/grade-body.js";

export const gradesQuerySchema = z.strictObject({
  text: z.string().max(100).optional().meta({ description: "In the standard, name or a designation", example: "304L" }),
});

/** The limits that heats are held to, with their clauses and how each is known. */
export function gradeRoutes({ library }: AppDeps): Router {
  const router = Router({ caseSensitive: true, strict: true });
  const byId = new Map(library.grades.map((held) => [held.grade.id, held]));

  router
    .route("/grades")
    .get(needs("read"), (request, response) => {
      const wanted = (readQuery(request, gradesQuerySchema).text ?? "").toLowerCase();
      const found = library.grades.filter(({ grade }) =>
        [grade.id, grade.standard, grade.name, ...grade.designations].some((text) =>
          text.toLowerCase().includes(wanted),
        ),
      );
      response.json({ items: found.map(gradeSummary) });
    })
    .all(allowMethods("GET"));

  router
    .route("/grades/:standard/:edition/:grade")
    .get(needs("read"), (request, response) => {
      const { standard, edition, grade } = request.params;
      const held = byId.get(`${standard}/${edition}/${grade}`);
      if (!held) throw new Problem("grade-unknown");
      response.json({ digest: held.digest, grade: held.grade });
    })
    .all(allowMethods("GET"));

  return router;
}
