# R 4.2.2 with survival 3.5-3: the figures of incidence.csv, from the dataset aml (Miller 1997, Survival Analysis, p. 49; datasets/aml.csv).
library(survival)
aml <- survival::aml
# the 23 patients of aml: of each group the events are taken in turn as established (1) and died (2), so that both compete
kind <- function(d){ s <- d$status; k <- which(s==1); s[k] <- rep(c(1,2),length.out=length(k)); s }
rows <- list(); id <- 1
for (g in c("all","Maintained","Nonmaintained")) {
  d <- if (g=="all") aml else aml[aml$x==g,]
  d <- d[order(d$time),]; s <- kind(d)
  f <- survfit(Surv(time, factor(s,0:2,c("none","est","died"))) ~ 1, data=d)
  tm <- f$time
  for (t in c(13,23,31)) {
    x <- summary(f, times=t, extend=TRUE)
    for (st in c("est","died")) {
      i <- which(f$states==st)
      rows[[length(rows)+1]] <- c(sprintf("AJ%02d",id), paste0("share ",c(est="established",died="dead")[[st]]), sprintf("group=%s; t=%g",g,t), sprintf("%.10g",x$pstate[i]), sprintf("%.10g",x$std.err[i]))
      id <- id+1
    }
  }
}
out <- do.call(rbind,rows); colnames(out) <- c("id","quantity","inputs","share","std-err"); write.csv(out,"incidence.csv",row.names=FALSE)
