package dynamics

import "slipleaf/build/reckon"

// The rules that the growth of a series follows.
var (
	EquationLine       = reckon.Equation{Key: "log-linear", Words: "Relative growth rate by least squares on the logarithm, one slope over all segments", Formula: "r = ΣSxy/ΣSxx, doubling time = ln 2/r", Source: "Hunt 1982, Plant Growth Curves; interval by Student's t"}
	EquationLogistic   = reckon.Equation{Key: "logistic", Words: "Growth toward what the space holds", Formula: "W = K/(1 + exp(−r(t − middle)))", Source: "Verhulst 1838; corrected criterion: Hurvich & Tsai 1989, Biometrika 76:297–307"}
	EquationStateSpace = reckon.Equation{Key: "diary-model", Words: "Growth followed across cuts, with unevenness and counting error (state-space model)", Formula: "x(t+dt) = x + r dt + q√dt e, ln count = x + m e, size after a cut = size − cut", Source: "extended Kalman filter over a grid of m and q with weak priors (our choice)"}
)
