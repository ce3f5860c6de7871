"""Cutting-stock instances from the literature, solved by the same planner as a shop's sheets.

Nobody can say how good a plan is by looking at it; published instances with known best values can. An instance is the
object that docs/sheets.md describes; `instance` reads it into the planner's own terms, solves it and writes the
answer as patterns that the referee understands. Families measured: cutting in two and three stages from one size
(Silva, Alvelos and Valério de Carvalho, Eur. J. Oper. Res. 205, 2010; Alvarez-Valdés, Parajón and Tamarit, Comput.
Oper. Res. 29, 2002), from several sizes by cost (Cintra, Miyazawa, Wakabayashi and Xavier, Eur. J. Oper. Res. 191,
2008, pp. 61-85), and bars (Falkenauer, J. Heuristics 2, 1996, pp. 5-30; Scholl, Klein and Jürgens, Comput. Oper.
Res. 24, 1997, pp. 627-645).
"""
