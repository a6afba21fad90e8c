package reckon

// Horizon is the farthest that anything is foretold, in days (our choice).
const Horizon = 60.0
