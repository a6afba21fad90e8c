# R 4.2.2 functions behind growth_rate_vectors.csv, regression_vectors.csv, kalman_vectors.csv and
# logistic_vectors.csv. Run them in the folder datasets, then the command in the column made_with of a row.
orange   <- read.csv("orange.csv");   chick <- read.csv("chickweight_1to5.csv")
women <- read.csv("women.csv"); cars <- read.csv("cars.csv")
duckweed <- read.csv("duckweed.csv"); lemna <- read.csv("lemna_control.csv")
c1 <- chick[chick$Chick==1,]
seg <- data.frame(s=factor(c(1,1,1,2,2,2,3,3,3)), t=c(0,3,7,7,10,14,14,18,21), w=c(10,12,16,8,10,13,7,9,12))
loglin <- function(t,w) lm(log(w) ~ t)
ci <- function(m,i=2,level=.95) confint(m,i,level=level)
segrate <- function(s,t,w){ y<-log(w); tc<-t-ave(t,s); yc<-y-ave(y,s); b<-sum(tc*yc)/sum(tc^2)
  df<-length(t)-nlevels(s)-1; sg<-sqrt(sum((yc-b*tc)^2)/df); c(r=b,se=sg/sqrt(sum(tc^2)),df=df,sigma=sg) }
theilsen <- function(x,y,level=.95){ p<-combn(length(x),2); dx<-x[p[2,]]-x[p[1,]]; dy<-y[p[2,]]-y[p[1,]]
  k<-dx!=0; sl<-sort(dy[k]/dx[k]); n<-length(x); N<-length(sl); z<-qnorm(1-(1-level)/2)
  C<-z*sqrt(n*(n-1)*(2*n+5)/18); lo<-floor((N-C)/2); hi<-ceiling((N+C)/2)+1
  c(slope=median(sl), lo=if(lo<1) NA else sl[lo], hi=if(hi>N) NA else sl[hi], pairs=N) }
sslog <- function(d) nls(circumference ~ SSlogis(age,Asym,xmid,scal), data=d)
logis  <- function(t,K,r,W0) K/(1+(K-W0)/W0*exp(-r*t))
tbetw  <- function(W0,W1,K,r) log(W1*(K-W0)/(W0*(K-W1)))/r
trimY  <- function(T,K,r) K*tanh(r*T/4)
# the logistic on the ln scale, and the corrected criterion (only differences of it mean anything)
lnlog <- function(t,w,start) nls(log(w) ~ lK - log(1+exp(-r*(t-mid))), start=start,
  control=nls.control(maxiter=500,tol=1e-7,minFactor=1e-12))
aicc <- function(f){ n<-length(residuals(f)); k<-length(coef(f))+1; n*log(sum(residuals(f)^2)/n)+2*k+2*k*(k+1)/(n-k-1) }
# the filter on evenly spaced values; w is duckweed$leaves, or the weights of chick 1 or 3 up to day 20 (chick1, chick3)
kmod <- function(dt,m,q,a,P) list(T=matrix(c(1,0,dt,1),2,2), Z=c(1,0), h=m^2, V=diag(c(q^2*dt,0)), a=a, P=P, Pn=P)
kal <- function(y,dt,m,q,a,P){ k<-KalmanLike(y,kmod(dt,m,q,a,P),nit=-1L); n<-length(y)
  # Lik = (log(s2) + mean(log F))/2 with s2 = mean(v^2/F), v what was foretold wrongly and F its variance
  c(loglik=-(n*log(2*pi)+n*(2*k$Lik-log(k$s2))+n*k$s2)/2, Lik=k$Lik) }
end <- function(y,dt,m,q,a,P){ md<-attr(KalmanRun(y,kmod(dt,m,q,a,P),nit=-1L,update=TRUE),"mod")
  c(x=md$a[1], r=md$a[2], xx=md$P[1,1], xr=md$P[1,2], rr=md$P[2,2]) }
# the filter with a rate that wanders by s per root day: an integrated random walk (Durbin & Koopman 2012, section 3.2)
kmodw <- function(dt,m,q,s,a,P) { k <- kmod(dt,m,q,a,P)
  k$V <- matrix(c(q^2*dt+s^2*dt^3/3, s^2*dt^2/2, s^2*dt^2/2, s^2*dt),2,2); k }
kalw <- function(y,dt,m,q,s,a,P){ k<-KalmanLike(y,kmodw(dt,m,q,s,a,P),nit=-1L); n<-length(y)
  c(loglik=-(n*log(2*pi)+n*(2*k$Lik-log(k$s2))+n*k$s2)/2) }
endw <- function(y,dt,m,q,s,a,P){ md<-attr(KalmanRun(y,kmodw(dt,m,q,s,a,P),nit=-1L,update=TRUE),"mod")
  c(x=md$a[1], r=md$a[2], xx=md$P[1,1], xr=md$P[1,2], rr=md$P[2,2]) }
# counts of which a share e is wild by sd w: the two posteriors of each count are matched by one (Harrison & Stevens 1976)
robust <- function(y,dt,m,q,a,P,e=0.05,w=0.7){ Tm<-matrix(c(1,0,dt,1),2,2); Z<-c(1,0); ll<-0
  for (v in y) { a<-as.vector(Tm%*%a); P<-Tm%*%P%*%t(Tm)+diag(c(q^2*dt,0))
    post<-lapply(c(m^2,m^2+w^2),function(h){ F<-as.numeric(t(Z)%*%P%*%Z)+h; K<-as.vector(P%*%Z)/F
      list(a=a+K*(v-a[1]), P=P-K%*%t(Z)%*%P, d=dnorm(v,a[1],sqrt(F))) })
    wt<-c(1-e,e)*c(post[[1]]$d,post[[2]]$d); ll<-ll+log(sum(wt)); wt<-wt/sum(wt)
    mu<-wt[1]*post[[1]]$a+wt[2]*post[[2]]$a
    P<-Reduce(`+`,lapply(1:2,function(i) wt[i]*(post[[i]]$P+(post[[i]]$a-mu)%*%t(post[[i]]$a-mu)))); a<-mu }
  c(loglik=ll,x=a[1],r=a[2],xx=P[1,1],xr=P[1,2],rr=P[2,2]) }
wrong <- function(w){ w[4] <- w[4]*2; w }
